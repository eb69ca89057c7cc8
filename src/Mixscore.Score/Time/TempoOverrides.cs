namespace Mixscore.Score;

/// <summary>Applies the plan's tempi to a tempo line: tempi and changes first, in order of their places, then holds.</summary>
internal sealed class TempoOverrides(Timeline timeline, IReadOnlyList<Quarters> scoreMarks)
{
    private readonly List<(Quarters From, Quarters To)> _changes = [];
    private readonly List<(Quarters From, Quarters To)> _holds = [];

    /// <summary>Whether a tempo or a change of the plan begins in a stretch or reaches over it; what a tempo leads to later does not count.</summary>
    internal bool Changes(Quarters from, Quarters to) => _changes.Exists(range => range.From < to && from < range.To);

    /// <summary>Whether a hold of the plan stands in a stretch.</summary>
    internal bool Holds(Quarters from, Quarters to) => _holds.Exists(range => range.From < to && from < range.To);

    internal List<OverrideProblem> Apply(IReadOnlyList<TempoOverride> overrides, TempoLine line)
    {
        var problems = new List<OverrideProblem>();
        var placed = new List<Placed>();
        for (var i = 0; i < overrides.Count; i++)
            if (Find(i, overrides[i], out var problem) is { } found) placed.Add(found);
            else problems.Add(new OverrideProblem(i, problem!));

        var changes = WithoutOverlaps([.. placed.Where(one => one.Override.Hold is null).OrderBy(one => one.From)], problems);
        var holds = WithoutOverlaps([.. placed.Where(one => one.Override.Hold is not null).OrderBy(one => one.From)], problems);
        for (var k = 0; k < changes.Count; k++) Change(changes[k], k + 1 < changes.Count ? changes[k + 1].From : timeline.End, line);
        foreach (var hold in holds) Hold(hold, line);
        problems.Sort((a, b) => a.Override.CompareTo(b.Override));
        return problems;
    }

    private sealed record Placed(int Index, TempoOverride Override, Quarters From, Quarters To);

    private Placed? Find(int index, TempoOverride one, out string? problem)
    {
        if (!timeline.TryResolve(one.From, out var from, out problem)) return null;
        if (from >= timeline.End)
        {
            problem = "a tempo cannot begin at the end of the piece";
            return null;
        }
        if (one.Hold is { } hold)
        {
            if (!(hold.Value > 0 && double.IsFinite(hold.Value)))
            {
                problem = $"a hold of {hold} cannot be; write a time above zero, such as hold 3.5 s";
                return null;
            }
            var (start, end) = BeatAt(from);
            return new Placed(index, one, start, end);
        }
        if ((Wrong(one.StartTempo) ?? Wrong(one.EndTempo)) is { } wrong)
        {
            problem = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"a tempo of {wrong} cannot be; write quarters a minute above zero");
            return null;
        }
        if (one.To is null)
        {
            if (one.StartTempo is not null && one.EndTempo is null) return new Placed(index, one, from, from);
            problem = one.EndTempo is null ? "neither a tempo nor a hold is said" : "a change of tempo needs a place where it ends, such as 72 > 60 by end";
            return null;
        }
        if (!timeline.TryResolve(one.To, out var to, out problem)) return null;
        if (to > from) return new Placed(index, one, from, to);
        problem = $"the change ends at {one.To}, which is not behind its beginning at {one.From}";
        return null;
    }

    private static double? Wrong(double? tempo) => tempo is { } value && !(value > 0 && double.IsFinite(value)) ? value : null;

    private (Quarters Start, Quarters End) BeatAt(Quarters place)
    {
        var bar = timeline.BarAt(place);
        var beat = 0;
        while (beat + 1 < bar.Beats.Count && bar.Beats[beat + 1] <= place) beat++;
        return (bar.Beats[beat], beat + 1 < bar.Beats.Count ? bar.Beats[beat + 1] : bar.End);
    }

    private static List<Placed> WithoutOverlaps(List<Placed> sorted, List<OverrideProblem> problems)
    {
        var kept = new List<Placed>();
        foreach (var one in sorted)
            if (kept.Count > 0 && (one.From == kept[^1].From || one.From < kept[^1].To))
            {
                var (first, second) = one.Index > kept[^1].Index ? (kept[^1], one) : (one, kept[^1]);
                problems.Add(new OverrideProblem(second.Index, $"it overlaps the entry at {first.Override.From}; let each place of the score have one"));
                if (second != one) kept[^1] = one;
            }
            else kept.Add(one);
        return kept;
    }

    /// <summary>What a change reaches goes on until the next mark, of the score or of the plan.</summary>
    private void Change(Placed one, Quarters nextOverride, TempoLine line)
    {
        var start = one.Override.StartTempo ?? line.TempoBefore(one.From);
        var reached = one.Override.EndTempo ?? start;
        if (one.To > one.From) line.Replace(one.From, one.To, start, reached);
        var until = Quarters.Min(nextOverride, NextScoreMark(one.To, include: one.To > one.From));
        if (until > one.To) line.Replace(one.To, until, reached, reached);
        _changes.Add((one.From, one.To > one.From ? one.To : BeatAt(one.From).End));
    }

    private Quarters NextScoreMark(Quarters place, bool include)
    {
        foreach (var mark in scoreMarks) if (mark > place || (include && mark == place)) return mark;
        return timeline.End;
    }

    private void Hold(Placed one, TempoLine line)
    {
        var tempo = 60 * (one.To - one.From).ToDouble() / one.Override.Hold!.Value.Value;
        line.Replace(one.From, one.To, tempo, tempo);
        _holds.Add((one.From, one.To));
    }
}
