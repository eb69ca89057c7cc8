using System.Globalization;
using System.Text.RegularExpressions;

namespace Mixscore.Planning;

/// <summary><c>click:</c>, such as <c>{ count-in: 2 bars at 84, subdivide: 2 }</c>.</summary>
internal static partial class ClickSection
{
    private const int MostBars = 8, MostParts = 8;

    internal static ClickSettings Read(YamlPair? pair, FaultList faults)
    {
        var usual = new ClickSettings();
        if (pair is null || Section.Open("the click", pair.Value, pair.Key.Place, faults, "count-in", "subdivide") is not { } click) return usual;
        var (bars, tempo) = ReadCountIn(click, click["count-in"], faults) ?? (usual.CountIn, null);
        return new ClickSettings { CountIn = bars, CountInTempo = tempo, Subdivide = ReadParts(click, click["subdivide"], faults) ?? usual.Subdivide };
    }

    private static (int Bars, double? Tempo)? ReadCountIn(Section click, YamlPair? pair, FaultList faults)
    {
        if (click.Text(pair) is not { } text) return null;
        var place = pair!.Value.Place;
        var match = CountInForm().Match(text);
        if (!match.Success)
        {
            faults.Add(PlanFault.NotAQuantity, place, $"\"{text}\" is not a count-in", "write bars, and a tempo if it is another, such as \"2 bars at 84\"");
            return null;
        }
        if (!int.TryParse(match.Groups["bars"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var bars) || bars > MostBars)
        {
            faults.Add(PlanFault.OutOfRange, place, $"\"{text}\" counts too long", $"a count-in has 0 to {MostBars} bars");
            return null;
        }
        if (!match.Groups["tempo"].Success) return (bars, null);
        if (Measure.Tempo.Read(match.Groups["tempo"].Value, out var tempo) is not { } problem) return (bars, tempo);
        click.Add(problem, place);
        return null;
    }

    private static int? ReadParts(Section click, YamlPair? pair, FaultList faults)
    {
        if (click.Text(pair) is not { } text) return null;
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var parts) && parts is >= 1 and <= MostParts) return parts;
        faults.Add(PlanFault.OutOfRange, pair!.Value.Place, $"a beat cannot be divided by \"{text}\"", $"write a whole number from 1 to {MostParts}");
        return null;
    }

    [GeneratedRegex(@"^(?<bars>[0-9]{1,9})\s*(bars?)?(\s+at\s+(?<tempo>\S.*))?$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex CountInForm();
}
