using System.Globalization;
using System.Text.RegularExpressions;

namespace Mixscore.Planning;

/// <summary><c>call:</c>, such as <c>{ bars: every 4 bars, language: de }</c>, and a site's own <c>call: letters</c>.</summary>
internal static partial class CallSection
{
    internal static CallSettings Read(YamlPair? pair, FaultList faults)
    {
        var usual = new CallSettings();
        if (pair is null || Section.Open("the call", pair.Value, pair.Key.Place, faults, "bars", "language", "folder", "letter", "time", "rest") is not { } call) return usual;
        return new CallSettings
        {
            Choice = ReadChoice(call, call["bars"], faults) ?? usual.Choice,
            Language = ReadLanguage(call, call["language"], faults) ?? usual.Language,
            Folder = call.Text(call["folder"]),
            Letter = call.Text(call["letter"]),
            Time = call.Text(call["time"]),
            Rest = call.Text(call["rest"]),
        };
    }

    /// <summary><c>every bar</c>, <c>every 4 bars</c>, <c>letters</c> or <c>off</c>.</summary>
    internal static CallChoice? ReadChoice(Section section, YamlPair? pair, FaultList faults)
    {
        if (section.Text(pair) is not { } text) return null;
        switch (text.ToLowerInvariant())
        {
            case "letters": return CallChoice.LettersOnly;
            case "off": return CallChoice.Off;
            case "every bar": return CallChoice.EveryBar;
        }
        var place = pair!.Value.Place;
        if (Every().Match(text) is { Success: true } match)
        {
            if (int.TryParse(match.Groups["bars"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var bars) && bars is >= 1 and <= CallChoice.MostBars) return new CallChoice(bars, true);
            faults.Add(PlanFault.OutOfRange, place, $"\"{text}\" cannot be called", $"write every 1 to {CallChoice.MostBars} bars");
        }
        else faults.Add(PlanFault.UnknownWord, place, $"\"{text}\" does not say which bars are called", "write every bar, every 4 bars, letters or off");
        return null;
    }

    private static string? ReadLanguage(Section call, YamlPair? pair, FaultList faults)
    {
        if (call.Text(pair) is not { } text) return null;
        if (Language().IsMatch(text)) return text;
        faults.Add(PlanFault.NotAText, pair!.Value.Place, $"\"{text}\" cannot be a language", "write its code, such as en, de or fr-ch; espeak-ng --voices lists them");
        return null;
    }

    [GeneratedRegex(@"^every\s+(?<bars>[0-9]{1,9})\s*bars?$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Every();

    [GeneratedRegex("^[A-Za-z][A-Za-z0-9_+-]{0,39}$", RegexOptions.CultureInvariant)]
    private static partial Regex Language();
}
