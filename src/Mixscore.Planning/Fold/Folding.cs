using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>What nights say about a plan.</summary>
/// <param name="Proposals">What should change, by source in the plan's order and then in the order of the piece.</param>
/// <param name="LeftOut">What the hands did that is no wish for the next performance.</param>
public sealed record Folded(IReadOnlyList<FoldProposal> Proposals, IReadOnlyList<LeftOut> LeftOut);

/// <summary>
/// Brings what hands did into a plan as proposals: the fewest changes of its marks with which the fit, run again, has every
/// fader where the hand had it, within a tolerance.
/// </summary>
public static class Folding
{
    /// <summary>How near a fader must come to where the hand had it; what is nearer is no correction. Our own figure: the least that is heard as a change.</summary>
    public static Decibels UsualTolerance { get; } = Decibels.Of(1);

    /// <summary>Folds nights into a plan.</summary>
    /// <param name="onScore">The plan as it is now.</param>
    /// <param name="sources">Its sources as <c>fit</c> takes them, in the plan's order.</param>
    /// <param name="nights">The nights; at least one.</param>
    /// <param name="tolerance">How near is near enough; above 0.</param>
    public static Folded Of(PlanOnScore onScore, IReadOnlyList<SourceToFit> sources, IReadOnlyList<FoldNight> nights, Decibels tolerance)
    {
        var grid = new FoldGrid(onScore.Timeline, onScore.Plan.Limits);
        var fit = new FoldFit(onScore, grid, sources);
        var (bySource, leftOut) = (new Dictionary<string, IReadOnlyList<FoldProposal>>(StringComparer.Ordinal), new List<LeftOut>());
        foreach (var source in onScore.FittingOrder)
        {
            var traces = nights.SelectMany(night => night.Sources.Where(one => one.Source == source.Source.Name).Select(one => new NightTrace(grid, onScore.Plan.Limits, night, one))).ToArray();
            foreach (var trace in traces) HandsCleaned.Clean(trace, source.Source.Name, tolerance.Value, leftOut);
            bySource[source.Source.Name] = Of(onScore, grid, fit, fit[source.Source.Name], traces, tolerance.Value, leftOut);
        }
        return new Folded([.. onScore.Sources.SelectMany(source => bySource[source.Source.Name])], leftOut);
    }

    private static List<FoldProposal> Of(PlanOnScore onScore, FoldGrid grid, FoldFit fit, SourceToFit source, IReadOnlyList<NightTrace> traces, double tolerance, List<LeftOut> leftOut)
    {
        var wanted = new double?[grid.Count];
        foreach (var trace in traces)
            for (var i = 0; i < grid.Count; i++)
                if (trace.State[i] == CellState.Hand) wanted[i] = trace.Gain[i];
        var stretches = Apart(CellRuns.Of(grid.Count, i => wanted[i] is not null));
        if (stretches.Count == 0) return [];
        var fold = new SourceFold(grid, onScore.Plan.Limits, fit, source, wanted, tolerance);
        var now = fit.Ride(source);
        var open = stretches.Where(stretch => fold.Likeness(now, stretch.From, stretch.To) is { } likeness && likeness < SourceFold.Enough).ToArray();
        if (open.Length == 0) return [];
        var marks = FoldedMarks.Of(onScore.Plan, source.Name, grid);
        var found = fold.Find(marks, open);
        fit.Set(source with { Levels = found.Marks.Line });
        foreach (var (from, to) in found.NotReached)
            leftOut.Add(new LeftOut(source.Name, grid.PositionOf(from / FoldGrid.PerBeat), grid.PositionOf((to + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat), LeftOutBecause.NotReached, null));
        return [.. MarkProposals.Of(source, marks, found, grid.Timeline, [.. traces.Select(trace => trace.Night)])];
    }

    // Two that share a beat are one: marks could not tell them apart.
    private static List<(int From, int To)> Apart(IEnumerable<(int From, int To)> runs)
    {
        var apart = new List<(int From, int To)>();
        foreach (var run in runs)
        {
            if (apart.Count > 0 && run.From / FoldGrid.PerBeat <= (apart[^1].To - 1) / FoldGrid.PerBeat) apart[^1] = (apart[^1].From, run.To);
            else apart.Add(run);
        }
        return apart;
    }
}
