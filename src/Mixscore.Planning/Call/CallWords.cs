using System.Globalization;

namespace Mixscore.Planning;

/// <summary>
/// What is said, in the plan's language. Numbers are left as figures, since a voice says them in its own language; the
/// few phrases are here for some languages and can be given in the plan for all others. From memory, unverified.
/// </summary>
internal sealed class CallWords(CallSettings settings)
{
    private static readonly Dictionary<string, (string Letter, string Second, string Third, string Time, string Pause)> Known = new(StringComparer.Ordinal)
    {
        ["en"] = ("letter {}", "second time", "third time", "time {}", "{} bars rest"),
        ["de"] = ("Buchstabe {}", "zweites Mal", "drittes Mal", "{}. Mal", "{} Takte Pause"),
        ["fr"] = ("lettre {}", "deuxième fois", "troisième fois", "fois {}", "{} mesures de pause"),
        ["it"] = ("lettera {}", "seconda volta", "terza volta", "volta {}", "{} battute di pausa"),
        ["es"] = ("letra {}", "segunda vez", "tercera vez", "vez {}", "{} compases de silencio"),
        ["nl"] = ("letter {}", "tweede keer", "derde keer", "keer {}", "{} maten rust"),
    };

    private readonly (string Letter, string Second, string Third, string Time, string Pause)? _phrases =
        Known.TryGetValue(settings.Language.Split('-', '_')[0].ToLowerInvariant(), out var phrases) ? phrases : null;

    internal static CallPart Number(string label) => new(label, label);

    internal static CallPart Count(int beat)
    {
        var text = beat.ToString(CultureInfo.InvariantCulture);
        return new CallPart(text, text);
    }

    /// <summary>A letter. Where nobody said how, its name alone.</summary>
    internal CallPart Letter(string name) => new($"letter-{name}", Filled(settings.Letter ?? _phrases?.Letter ?? "{}", name));

    /// <summary>A later pass; <c>null</c> where nobody said how.</summary>
    internal CallPart? Time(int pass)
    {
        var text = settings.Time ?? (pass == 2 ? _phrases?.Second : pass == 3 ? _phrases?.Third : _phrases?.Time);
        return text is null ? null : Part("time", text, pass);
    }

    /// <summary>Bars of rest; <c>null</c> where nobody said how.</summary>
    internal CallPart? Rest(int bars) => (settings.Rest ?? _phrases?.Pause) is { } text ? Part("rest", text, bars) : null;

    private static CallPart Part(string kind, string text, int number)
    {
        var figure = number.ToString(CultureInfo.InvariantCulture);
        return new CallPart($"{kind}-{figure}", Filled(text, figure));
    }

    private static string Filled(string text, string with) => text.Replace("{}", with, StringComparison.Ordinal);
}
