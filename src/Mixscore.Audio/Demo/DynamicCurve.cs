using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// How loud a part is written to be, in dB over its mezzo-forte. A step from one dynamic to the next is 3 dB: players
/// do less than they read. Our own figure, no source.
/// </summary>
internal sealed class DynamicCurve
{
    private const double Step = 3, Nothing = -24;
    private static readonly string[] Names = ["pppp", "ppp", "pp", "p", "mp", "mf", "f", "ff", "fff", "ffff"];
    private readonly List<(double At, double Level)> _corners = [];

    internal DynamicCurve(PerformedPart part)
    {
        var marks = part.Dynamics.Select(mark => (At: mark.At.ToDouble(), Level: LevelOf(mark.Text)))
            .Where(mark => mark.Level is not null).Select(mark => (mark.At, Level: mark.Level!.Value)).ToList();
        var level = marks.Count > 0 ? marks[0].Level : 0;
        Add(0, level);
        var events = marks.Select(mark => (mark.At, Mark: (double?)mark.Level, Hairpin: (PerformedHairpin?)null))
            .Concat(part.Hairpins.Select(hairpin => (At: hairpin.From.ToDouble(), Mark: (double?)null, Hairpin: (PerformedHairpin?)hairpin)))
            .OrderBy(e => e.At).ThenBy(e => e.Mark is null).ToList();
        foreach (var (at, mark, hairpin) in events)
        {
            if (mark is { } to)
            {
                Add(at, level);
                Add(at, level = to);
            }
            if (hairpin is null) continue;
            var end = hairpin.To.ToDouble();
            var rises = hairpin is { Niente: true, Grows: true };
            Add(at, rises ? Nothing : level);
            Add(end, level = Target(hairpin, rises ? Nothing : level, rises ? level : level + (hairpin.Grows ? Step : -Step), marks, end));
        }
    }

    /// <summary>The level at a place, in quarters; straight between corners.</summary>
    internal double At(double quarters)
    {
        int low = 0, high = _corners.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (_corners[middle].At <= quarters) low = middle;
            else high = middle - 1;
        }
        if (low == _corners.Count - 1) return _corners[low].Level;
        var (from, to) = (_corners[low], _corners[low + 1]);
        return to.At <= from.At ? to.Level : from.Level + (to.Level - from.Level) * Math.Clamp((quarters - from.At) / (to.At - from.At), 0, 1);
    }

    /// <summary>A hairpin goes to the dynamic that stands at its end, if that lies its way; otherwise by a step, or from nothing to what was.</summary>
    private static double Target(PerformedHairpin hairpin, double level, double otherwise, List<(double At, double Level)> marks, double end)
    {
        const double Near = 1.01;   // quarters
        if (hairpin is { Niente: true, Grows: false }) return Nothing;
        foreach (var mark in marks)
            if (mark.At >= end - Near && mark.At <= end + Near && (hairpin.Grows ? mark.Level > level : mark.Level < level)) return mark.Level;
        return otherwise;
    }

    private void Add(double at, double level)
    {
        if (_corners.Count == 0 || at >= _corners[^1].At) _corners.Add((at, level));
    }

    private static double? LevelOf(string text)
    {
        var index = Array.IndexOf(Names, text);
        return index < 0 ? null : (index - Array.IndexOf(Names, "mf")) * Step;
    }
}
