using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The bars that two versions of a piece share: of one number, pass and length. What else differs is told, and not compared.</summary>
internal sealed class SharedBars
{
    private readonly Timeline _before;
    private readonly Timeline _later;
    private readonly Dictionary<int, PlayedBar> _after = [];
    private readonly Dictionary<int, PlayedBar> _was = [];

    internal SharedBars(Timeline before, Timeline after)
    {
        (_before, _later) = (before, after);
        var known = Keyed(before).ToDictionary(one => one.Key, one => one.Bar);
        var (pairs, added) = (new List<(PlayedBar, PlayedBar)>(), new List<PlayedBar>());
        foreach (var (key, bar) in Keyed(after))
        {
            if (!known.Remove(key, out var was))
            {
                added.Add(bar);
                continue;
            }
            pairs.Add((was, bar));
            (_after[was.Index], _was[bar.Index]) = (bar, was);
        }
        (Pairs, New, Gone) = (pairs, added, [.. known.Values.OrderBy(bar => bar.Index)]);
    }

    /// <summary>The bars that both have, in the order of the later version.</summary>
    internal IReadOnlyList<(PlayedBar Before, PlayedBar After)> Pairs { get; }

    /// <summary>The bars of the earlier version that the later one has not, or has in another length.</summary>
    internal IReadOnlyList<PlayedBar> Gone { get; }

    /// <summary>The bars of the later version that the earlier one has not, or has in another length.</summary>
    internal IReadOnlyList<PlayedBar> New { get; }

    /// <summary>Where a place of the earlier version lies in the later one; <c>null</c> where its bar is gone.</summary>
    internal Quarters? InAfter(Quarters place)
    {
        var bar = place >= _before.End ? _before.Bars[^1] : _before.BarAt(place);
        return _after.TryGetValue(bar.Index, out var now) ? now.Start + (place - bar.Start) : null;
    }

    /// <summary>Where a place of the later version lies in the earlier one; <c>null</c> where its bar is new.</summary>
    internal double? InBefore(double quarters)
    {
        var bar = _later.BarAt(quarters);
        return _was.TryGetValue(bar.Index, out var was) ? quarters - bar.Start.ToDouble() + was.Start.ToDouble() : null;
    }

    // Two written bars may share a number, where one was split.
    private static IEnumerable<((int, string, int, Quarters, int) Key, PlayedBar Bar)> Keyed(Timeline timeline)
    {
        var counted = new Dictionary<(int, string, int, Quarters), int>();
        foreach (var bar in timeline.Bars)
        {
            var key = (bar.Movement, bar.Label, bar.Pass, bar.Length);
            var times = counted[key] = counted.GetValueOrDefault(key) + 1;
            yield return ((bar.Movement, bar.Label, bar.Pass, bar.Length, times), bar);
        }
    }
}
