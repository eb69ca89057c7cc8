using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>What nights say about a plan.</summary>
/// <param name="Proposals">What should change, by source in the plan's order and then in the order of the piece.</param>
/// <param name="Spreads">Where nights differ, which is left to the engineer.</param>
/// <param name="LeftOut">What the hands did that is no wish for the next performance.</param>
public sealed record Folded(IReadOnlyList<FoldProposal> Proposals, IReadOnlyList<FoldSpread> Spreads, IReadOnlyList<LeftOut> LeftOut);

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
        var folding = new OneByOne(onScore, grid, new FoldFit(onScore, grid, sources), tolerance.Value);
        foreach (var source in onScore.FittingOrder)
        {
            var name = source.Source.Name;
            var traces = nights.SelectMany(night => night.Sources.Where(one => one.Source == name).Select(one => new NightTrace(grid, onScore.Plan.Limits, night, one))).ToArray();
            foreach (var trace in traces) HandsCleaned.Clean(trace, name, tolerance.Value, folding.LeftOut);
            if (traces.Any(trace => trace.State.Contains(CellState.Hand))) folding.Fold(source.Source, traces);
        }
        return new Folded([.. onScore.Sources.SelectMany(source => folding.Proposals.Where(proposal => proposal.Source == source.Source.Name))], folding.Spreads, folding.LeftOut);
    }

    /// <summary>Source by source, those that are leaned on first.</summary>
    private sealed class OneByOne(PlanOnScore onScore, FoldGrid grid, FoldFit fit, double tolerance)
    {
        internal List<FoldProposal> Proposals { get; } = [];

        internal List<FoldSpread> Spreads { get; } = [];

        internal List<LeftOut> LeftOut { get; } = [];

        internal void Fold(Source source, IReadOnlyList<NightTrace> traces)
        {
            var toFit = fit[source.Name];
            var wanted = NightsTogether.Of(traces, source.Name, fit.Ride(toFit), Spreads);
            IReadOnlyList<FoldNight> nights = [.. traces.Where(trace => trace.State.Contains(CellState.Hand)).Select(trace => trace.Night)];
            var offset = source.Offset + source.HallOffset;
            var fold = new SourceFold(grid, onScore.Plan.Limits, fit, toFit, wanted, tolerance);
            if (LastingOffset.Of(traces, wanted, fold.Now, fold.Loudness, tolerance) is { } lasting)
            {
                Proposals.Add(OffsetProposal.Of(onScore, source, lasting, nights));
                offset += lasting.By;
                fit.Set(toFit = toFit with { Levels = FoldedMarks.Of(onScore.Plan, source.Name, grid, offset).Line });
                fold = new SourceFold(grid, onScore.Plan.Limits, fit, toFit, wanted, tolerance);
            }
            var open = Apart(CellRuns.Of(grid.Count, i => wanted[i] is not null)).Where(stretch => IsOpen(fold, source.Name, stretch)).ToArray();
            if (open.Length == 0) return;
            var marks = FoldedMarks.Of(onScore.Plan, source.Name, grid, offset);
            var found = fold.Find(marks, open);
            fit.Set(toFit with { Levels = found.Marks.Line });
            Proposals.AddRange(MarkProposals.Of(source.Name, marks, found, grid, nights));
            foreach (var (from, to) in found.Missed) Leave(source.Name, from, to, LeftOutBecause.NotReached);
        }

        private bool IsOpen(SourceFold fold, string source, (int From, int To) stretch)
        {
            if (fold.Likeness(fold.Now, stretch.From, stretch.To) is { } likeness) return likeness < SourceFold.Enough;
            Leave(source, stretch.From, stretch.To, LeftOutBecause.NothingSounds);
            return false;
        }

        private void Leave(string source, int from, int to, LeftOutBecause because) =>
            LeftOut.Add(new LeftOut(source, grid.PositionOf(from / FoldGrid.PerBeat), grid.PositionOf((to + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat), because, null));
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
