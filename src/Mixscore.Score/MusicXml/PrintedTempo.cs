using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Mixscore.Score;

/// <summary>A metronome mark that stands in plain words, such as <c>Allegro (♩. = 96)</c>.</summary>
internal static partial class PrintedTempo
{
    /// <summary>Note signs in words: Unicode's, those of SMuFL 1.40 for metronome marks, and names. In quarters.</summary>
    private static readonly Dictionary<string, Quarters> Notes = new()
    {
        ["\U0001D15D"] = new(4),
        ["\U0001D15E"] = new(2),
        ["\U0001D15F"] = new(1),
        ["\U0001D160"] = new(1, 2),
        ["\U0001D161"] = new(1, 4),
        ["\u2669"] = new(1),
        ["\u266A"] = new(1, 2),
        ["\uECA2"] = new(4),
        ["\uECA3"] = new(2),
        ["\uECA5"] = new(1),
        ["\uECA7"] = new(1, 2),
        ["\uECA9"] = new(1, 4),
        ["quarter"] = new(1),
        ["half"] = new(2),
        ["eighth"] = new(1, 2),
        ["crotchet"] = new(1),
        ["minim"] = new(2),
        ["quaver"] = new(1, 2),
    };

    /// <summary>The tempo in quarters a minute; of a range the middle; <c>null</c> where the words give none.</summary>
    internal static double? Read(string words)
    {
        if (words.Length > 120 || !words.Contains('=', StringComparison.Ordinal)) return null;
        // Notes that Unicode composes of a head and a stem come apart when text is normalised.
        var text = words.Replace("\U0001D157\U0001D165", "\U0001D15E", StringComparison.Ordinal).Replace("\U0001D158\U0001D165", "\U0001D15F", StringComparison.Ordinal);
        if (Mark().Match(text) is not { Success: true } mark || !Notes.TryGetValue(mark.Groups["note"].Value.ToLowerInvariant(), out var note)) return null;
        var dots = mark.Groups["dots"].Value.EnumerateRunes().Count(rune => !Rune.IsWhiteSpace(rune));
        var unit = note * (new Fraction(2) - new Fraction(1, 1L << dots));
        var low = Number(mark.Groups["low"].Value);
        var high = mark.Groups["high"].Success ? Number(mark.Groups["high"].Value) : low;
        return (low + high) / 2 * unit.ToDouble();
    }

    private static double Number(string text) => double.Parse(text.Replace(',', '.'), CultureInfo.InvariantCulture);

    [GeneratedRegex(@"(?<note>\uD834\uDD5D|\uD834\uDD5E|\uD834\uDD5F|\uD834\uDD60|\uD834\uDD61|[\u2669\u266A\uECA2\uECA3\uECA5\uECA7\uECA9]|(?<!\p{L})(?:quarter|half|eighth|crotchet|minim|quaver)(?!\p{L}))(?: note)?(?<dots>(?:\s*[.\u00B7\uECB7]|\uD834\uDD6D){0,2})\s*=\s*(?:c\.?|ca\.?|circa)?\s*(?<low>[0-9]{1,4}(?:[.,][0-9]{1,3})?)(?:\s*[-\u2013\u2014]\s*(?<high>[0-9]{1,4}(?:[.,][0-9]{1,3})?))?", RegexOptions.IgnoreCase)]
    private static partial Regex Mark();
}
