namespace Mixscore.Score;

/// <summary>Finds where the score leaves the tempo open and the plan has not closed it.</summary>
internal sealed class OpenPlaces(WrittenScore score, Timeline timeline, TempoOverrides overrides, Notices notices)
{
    private readonly Dictionary<int, PlayedBar> _first = timeline.Bars.GroupBy(bar => bar.Written).ToDictionary(bars => bars.Key, bars => bars.First());

    internal IReadOnlyList<OpenTempo> Find()
    {
        var open = new List<(Quarters At, OpenTempo Tempo)>();
        foreach (var fermata in score.Fermatas)
            if (_first.TryGetValue(fermata.Bar, out var bar) && BeatIn(bar, bar.Start + fermata.Offset) is var (from, to) && !overrides.Holds(from, to))
                open.Add((from, Fermata(fermata, from, to)));
        var stops = Stops();
        var marked = score.Tempo.Select(tempo => tempo.At).ToHashSet();
        foreach (var words in score.GradualTempo)
            if (_first.TryGetValue(words.At.Bar, out var bar) && !marked.Contains(words.At) && bar.Start + words.At.Offset is var at && at < timeline.End)
            {
                var (from, to) = BeatIn(timeline.BarAt(at), at);
                if (!overrides.Changes(from, to)) open.Add((at, Words(words, at, stops)));
            }
        return [.. open.OrderBy(one => one.At).Select(one => one.Tempo)];
    }

    private OpenTempo Fermata(WrittenPlace written, Quarters from, Quarters to)
    {
        var open = new OpenTempo(timeline.PositionAt(from), "fermata", UsualTempo.Hold(timeline, from, to));
        Warn("MX081", written.Bar, "a fermata is held no longer than it is written", open);
        return open;
    }

    private OpenTempo Words(GradualTempo words, Quarters at, List<Quarters> stops)
    {
        var next = stops.Find(stop => stop > at);
        var open = new OpenTempo(timeline.PositionAt(at), words.Words, UsualTempo.Change(timeline, words, at, next > at ? next : timeline.End));
        Warn("MX082", words.At.Bar, $"\"{words.Words}\" does not say how much; the tempo stays until the next mark", open);
        return open;
    }

    private void Warn(string code, int written, string found, OpenTempo open) =>
        notices.Warn(code, score.Bars[written - 1].Line, BarNames.Of(score.Bars, written - 1), found, $"say it in the plan's tempo:, such as \"{open.Entry}\"");

    /// <summary>Where marks and words of tempo stand in the piece as played, in order.</summary>
    private List<Quarters> Stops()
    {
        var byBar = score.Tempo.Select(tempo => tempo.At).Concat(score.GradualTempo.Select(words => words.At)).ToLookup(at => at.Bar, at => at.Offset);
        return [.. timeline.Bars.SelectMany(bar => byBar[bar.Written].Select(offset => bar.Start + offset)).Order()];
    }

    /// <summary>The beat of a bar that a place lies in; a place on the bar's end belongs to its last beat.</summary>
    private static (Quarters From, Quarters To) BeatIn(PlayedBar bar, Quarters place)
    {
        var beat = bar.Beats.Count - 1;
        while (beat > 0 && bar.Beats[beat] > place) beat--;
        return (bar.Beats[beat], beat + 1 < bar.Beats.Count ? bar.Beats[beat + 1] : bar.End);
    }
}
