using System.Globalization;
using System.Text.RegularExpressions;

namespace Mixscore.Score;

/// <summary>Reads printed metronome marks: a unit and a number, or a unit that equals a unit.</summary>
internal static partial class MetronomeReader
{
    /// <summary>What a mark says.</summary>
    /// <param name="QuartersPerMinute">The tempo, or for a relation the factor of the tempo before.</param>
    /// <param name="IsRelation">Whether it relates two units.</param>
    /// <param name="IsRange">Whether it gives two numbers; the middle is taken.</param>
    internal readonly record struct Reading(double QuartersPerMinute, bool IsRelation, bool IsRange);

    /// <summary>What the mark says, or <c>null</c> where it cannot be read.</summary>
    internal static Reading? Read(Element metronome)
    {
        var units = metronome.Has("metronome-note") ? Notes(metronome) : Units(metronome);
        if (units is null) return null;
        if (units is [var unit] && metronome.TextOf("per-minute") is { } text) return Number(text, unit);
        return units is [var before, var after] && before > Quarters.Zero
            ? new Reading((after / before).ToDouble(), IsRelation: true, IsRange: false)
            : null;
    }

    private static Reading? Number(string text, Quarters unit)
    {
        var numbers = Numbers().Matches(text).Select(match => double.Parse(match.Value.Replace(',', '.'), CultureInfo.InvariantCulture)).ToList();
        return numbers switch
        {
            [var one] => new Reading(one * unit.ToDouble(), false, false),
            [var low, var high] => new Reading((low + high) / 2 * unit.ToDouble(), false, IsRange: true),
            _ => null,
        };
    }

    private static List<Quarters>? Units(Element metronome)
    {
        var units = new List<Quarters>();
        string? name = null;
        var dots = 0;
        var tied = Quarters.Zero;
        foreach (var child in metronome.Children.Append(new Element("end", 0, 0)))
            switch (child.Name)
            {
                case "beat-unit-dot":
                    dots++;
                    break;
                case "beat-unit" or "per-minute" or "end" or "beat-unit-tied":
                    if (name is not null)
                    {
                        if (NoteValue.Of(name, dots) is not { } value) return null;
                        units.Add(value);
                    }
                    name = child.Name == "beat-unit" ? child.Text : null;
                    dots = 0;
                    if (child.Name == "beat-unit-tied" && units.Count > 0)
                    {
                        tied = NoteValue.Of(child.TextOf("beat-unit") ?? "", child.All("beat-unit-dot").Count()) ?? Quarters.Zero;
                        units[^1] += tied;
                    }
                    break;
            }
        return units;
    }

    /// <summary>The two sides of a relation that is written in notes.</summary>
    private static List<Quarters>? Notes(Element metronome)
    {
        var sides = new List<Quarters> { Quarters.Zero };
        var tuplet = new Fraction(1);
        foreach (var child in metronome.Children)
            if (child.Name == "metronome-relation") sides.Add(Quarters.Zero);
            else if (child.Name == "metronome-note")
            {
                if (NoteValue.Of(child.TextOf("metronome-type") ?? "", child.All("metronome-dot").Count()) is not { } value) return null;
                // A tuplet plays "actual" notes in the time of "normal" ones, from the note that starts it to the one that stops it.
                var sign = child.Child("metronome-tuplet");
                if (sign is not null && sign["type"] != "stop")
                {
                    if (sign.WholeOf("actual-notes") is not (> 0 and < 1000 and var actual) || sign.WholeOf("normal-notes") is not (> 0 and < 1000 and var normal)) return null;
                    tuplet = new Fraction(normal, actual);
                }
                sides[^1] += value * tuplet;
                if (sign is not null && sign["type"] == "stop") tuplet = new Fraction(1);
            }
        return sides;
    }

    [GeneratedRegex(@"[0-9]+(?:[.,][0-9]+)?")]
    private static partial Regex Numbers();
}
