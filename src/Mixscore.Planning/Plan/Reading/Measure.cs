using System.Globalization;
using System.Text.RegularExpressions;

namespace Mixscore.Planning;

/// <summary>A number with a unit, as people write it: <c>38 ms</c>, <c>-23 LUFS</c>, <c>24 dB/s</c>.</summary>
/// <param name="Noun">What it is, in a sentence.</param>
/// <param name="Unit">The unit in which it is held and shown.</param>
/// <param name="Units">Units that may be written, lower case, and how many of <paramref name="Unit"/> each is; "" where
/// none need be.</param>
/// <param name="Least">The least value.</param>
/// <param name="Most">The greatest value.</param>
/// <param name="Example">How to write one.</param>
/// <param name="AboveLeast">Whether the least value itself is too small.</param>
internal sealed partial record Measure(
    string Noun, string Unit, IReadOnlyDictionary<string, double> Units, double Least, double Most, string Example, bool AboveLeast = false)
{
    internal static Measure Reference { get; } = new("a reference", "LUFS", Same("", "lufs", "lkfs"), -70, 0, "-23 LUFS");

    internal static Measure Within { get; } = new("a distance", "LU", Same("", "lu", "db"), 0, 40, "2 LU", AboveLeast: true);

    internal static Measure Offset { get; } = new("an offset", "dB", Same("", "db", "lu"), -40, 40, "+2 dB");

    internal static Measure By { get; } = new("a distance", "LU", Same("", "lu", "db"), 0, 100, "8 LU");

    internal static Measure Level { get; } = new("a level", "LU", Same("", "lu"), -120, 40, "-20 LU");

    internal static Measure Delay { get; } = new("a delay", "ms", Times(bare: true), 0, 60_000, "38 ms");

    internal static Measure Fade { get; } = new("a fade", "ms", Times(bare: false), 0, 60_000, "300 ms");

    internal static Measure Hold { get; } =
        new("a hold", "s", new Dictionary<string, double> { ["ms"] = 0.001, ["s"] = 1 }, 0, 600, "3.5 s", AboveLeast: true);

    internal static Measure Window { get; } =
        new("a window", "s", new Dictionary<string, double> { ["ms"] = 0.001, ["s"] = 1 }, 0.4, 30, "3 s");

    internal static Measure Temperature { get; } = new("a temperature", "C", Same("", "c", "°c"), -40, 60, "20 C");

    internal static Measure Distance { get; } = new("a distance", "m", Same("", "m"), 0, 1000, "12 m");

    internal static Measure SoundLevel { get; } = new("a sound level", "dBA", Same("", "dba", "db(a)", "db"), 30, 130, "84 dBA");

    internal static Measure Start { get; } =
        new("a start", "s", new Dictionary<string, double> { ["ms"] = 0.001, ["s"] = 1 }, -3600, 36_000, "2.5 s");

    internal static Measure Tempo { get; } = new("a tempo", "quarters a minute", Same(""), 1, 3000, "72");

    internal static Measure Gain { get; } = new("a gain", "dB", Same("", "db"), -200, 60, "-60 dB");

    internal static Measure Speed { get; } = new("a speed", "dB/s", Same("", "db/s"), 0, 10_000, "24 dB/s", AboveLeast: true);

    internal static Measure TruePeak { get; } = new("a true peak", "dBTP", Same("", "dbtp", "db"), -60, 6, "-1 dBTP");

    /// <summary>Reads one.</summary>
    /// <param name="text">As written.</param>
    /// <param name="value">In <see cref="Unit"/>.</param>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal Problem? Read(string text, out double value)
    {
        value = 0;
        var match = Form().Match(text);
        if (!match.Success || !Units.TryGetValue(Unspaced(match.Groups["unit"].Value), out var factor))
            return new Problem(PlanFault.NotAQuantity, text.Trim().Length == 0 ? $"{Noun} is missing" : $"\"{text}\" is not {Noun}",
                $"write a number and {Unit}, such as \"{Example}\"");
        var negative = match.Groups["sign"].Value is "-" or "\u2212" or "\u2013";
        var number = double.Parse(match.Groups["number"].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);
        value = number * factor * (negative ? -1 : 1);
        if (value == 0) value = 0; // no negative zero
        if (value >= Least && value <= Most && !(AboveLeast && value == Least)) return null;
        return new Problem(PlanFault.OutOfRange, $"\"{text}\" is out of range for {Noun}",
            string.Create(CultureInfo.InvariantCulture,
                $"write {(AboveLeast ? "more than" : "at least")} {Least:0.###} and at most {Most:0.###} {Unit}"));
    }

    private static Dictionary<string, double> Same(params string[] units) => units.ToDictionary(unit => unit, _ => 1.0);

    private static Dictionary<string, double> Times(bool bare)
    {
        var units = new Dictionary<string, double> { ["ms"] = 1, ["s"] = 1000 };
        if (bare) units[""] = 1;
        return units;
    }

    private static string Unspaced(string unit) => unit.Replace(" ", "", StringComparison.Ordinal).ToLowerInvariant();

    /// <summary>Hyphen, minus sign and en dash are all written for a minus.</summary>
    [GeneratedRegex(@"^\s*(?<sign>[+\-\u2212\u2013]?)\s*(?<number>[0-9]{1,12}(?:\.[0-9]{0,12})?|\.[0-9]{1,12})\s*(?<unit>[^0-9\s].*?)?\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex Form();
}

/// <summary>What is wrong with a text, before it is known where that stands.</summary>
/// <param name="Code">The fault's code.</param>
/// <param name="Found">What was found.</param>
/// <param name="Remedy">What would be right.</param>
internal sealed record Problem(string Code, string Found, string Remedy);
