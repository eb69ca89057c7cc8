namespace Mixscore.Score;

/// <summary>Says where the score leaves the tempo open and the plan has not closed it.</summary>
internal static class OpenTempo
{
    internal static void Say(WrittenScore score, Timeline timeline, TempoOverrides overrides, Notices notices)
    {
        var first = new Dictionary<int, PlayedBar>();
        foreach (var bar in timeline.Bars) first.TryAdd(bar.Written, bar);
        foreach (var fermata in score.Fermatas)
            if (first.TryGetValue(fermata.Bar, out var bar) && !Covered(overrides, timeline, bar, fermata.Offset))
                notices.Warn("MX081", score.Bars[fermata.Bar - 1].Line, BarNames.Of(score.Bars, fermata.Bar - 1), "a fermata is held no longer than it is written", "say how long in the plan's tempo:, such as \"40:4: hold 3.5 s\"");
        var marked = score.Tempo.Select(tempo => tempo.At).ToHashSet();
        foreach (var words in score.GradualTempo)
        {
            if (!first.TryGetValue(words.At.Bar, out var bar) || marked.Contains(words.At) || Covered(overrides, timeline, bar, words.At.Offset)) continue;
            notices.Warn("MX082", score.Bars[words.At.Bar - 1].Line, BarNames.Of(score.Bars, words.At.Bar - 1), $"\"{words.Words}\" does not say how much; the tempo stays until the next mark", "say it in the plan's tempo:, such as \"D: 72 > 60 by end\"");
        }
    }

    private static bool Covered(TempoOverrides overrides, Timeline timeline, PlayedBar bar, Quarters offset)
    {
        var from = Quarters.Min(bar.Start + offset, bar.End);
        var next = timeline.BarAt(from).Beats.FirstOrDefault(beat => beat > from);
        var to = next > from ? next : bar.End;
        return overrides.Covers(from, Quarters.Max(to, from));
    }
}
