namespace Mixscore.Score;

/// <summary>What one bar has of an ending bracket.</summary>
internal readonly record struct EndingBar(IReadOnlyList<int> Passes, bool Starts, bool Stops);

/// <summary>Stretches ending brackets over their bars, and closes those that the file leaves open.</summary>
internal static class EndingBrackets
{
    internal static EndingBar[] Of(ScoreDraft draft, int[] movements)
    {
        var bars = draft.Bars;
        var brackets = new EndingBar[bars.Count];
        Array.Fill(brackets, new EndingBar([], false, false));
        var behind = 0;   // the bar behind the last bracket
        IReadOnlyList<int> last = [];
        for (var i = 0; i < bars.Count; i++)
        {
            if (bars[i].EndingStart is not { } passes)
            {
                if (bars[i].EndingStops && i >= behind) draft.Notices.Warn("MX055", bars[i].Line, bars[i].Label, "an ending stops that never began");
                continue;
            }
            if (passes.Count == 0)
            {
                passes = [behind == i && last.Count > 0 && !bars[i].RepeatStarts ? last[^1] + 1 : 1];
                draft.Notices.Warn("MX056", bars[i].Line, bars[i].Label, $"an ending has no number; it is taken as ending {passes[0]}");
            }
            var to = LastBar(draft, movements, i);
            for (var j = i; j <= to; j++) brackets[j] = new EndingBar(passes, j == i, j == to);
            (behind, last) = (to + 1, passes);
            i = to;
        }
        return brackets;
    }

    private static int LastBar(ScoreDraft draft, int[] movements, int from)
    {
        var bars = draft.Bars;
        int? repeat = null;
        for (var i = from; i < bars.Count && movements[i] == movements[from] && (i == from || bars[i].EndingStart is null); i++)
        {
            if (bars[i].EndingStops) return i;
            if (bars[i].Plays > 1) repeat ??= i;
        }
        if (repeat is { } at) return at;
        draft.Notices.Warn("MX057", bars[from].Line, bars[from].Label, "an ending has no stop; it is taken to last one bar");
        return from;
    }
}
