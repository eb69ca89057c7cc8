namespace Mixscore.Planning;

/// <summary>Leaves out of a night what is no wish for the next: slips, small corrections, faders that were held with all, and feeds that were gone.</summary>
internal static class HandsCleaned
{
    /// <summary>Of a hand's time the part that may lie beyond the tolerance and the correction still be small.</summary>
    private const double Few = 0.05;

    internal static void Clean(NightTrace trace, string source, double tolerance, List<LeftOut> leftOut)
    {
        foreach (var (state, because) in new[] { (CellState.HeldWithAll, LeftOutBecause.HeldWithAll), (CellState.FeedGone, LeftOutBecause.FeedGone) })
            foreach (var (from, to) in CellRuns.Of(trace.State.Length, i => trace.State[i] == state))
            {
                Say(trace, source, from, to, because, leftOut);
                Plan(trace, from, to, CellState.NotPlayed);
            }
        FillSlips(trace, source, tolerance, leftOut);
        foreach (var (from, to) in CellRuns.Of(trace.State.Length, i => trace.State[i] == CellState.Hand).ToArray())
        {
            var (time, far) = (0.0, 0.0);
            for (var i = from; i < to; i++)
            {
                time += trace.Grid.Seconds[i];
                if (Math.Abs(trace.Gain[i] - trace.Then[i]) > tolerance) far += trace.Grid.Seconds[i];
            }
            if (far > Few * time) continue;
            Say(trace, source, from, to, LeftOutBecause.Small, leftOut);
            Plan(trace, from, to, CellState.Planned);
        }
    }

    // Moved, and within a beat back to where it was.
    private static void FillSlips(NightTrace trace, string source, double tolerance, List<LeftOut> leftOut)
    {
        double Moved(int i) => trace.State[i - 1] == CellState.Planned ? trace.Gain[i] - trace.Then[i] : trace.Gain[i] - trace.Gain[i - 1];
        for (var i = 1; i < trace.State.Length; i++)
        {
            if (trace.State[i] != CellState.Hand || trace.State[i - 1] == CellState.NotPlayed || Math.Abs(Moved(i)) <= tolerance) continue;
            var back = i + 1;
            var last = Math.Min(i + FoldGrid.PerBeat, trace.State.Length - 1);
            while (back <= last && trace.State[back] != CellState.NotPlayed && !IsBack(back)) back++;
            if (back > last || trace.State[back] == CellState.NotPlayed) continue;
            Say(trace, source, i, back, LeftOutBecause.Slip, leftOut);
            for (var slip = i; slip < back; slip++) (trace.State[slip], trace.Gain[slip]) = trace.State[i - 1] == CellState.Planned ? (CellState.Planned, trace.Then[slip]) : (CellState.Hand, trace.Gain[i - 1]);

            // Back on the plan, or back where the hand was: a plan that comes after the hand makes no slip of it.
            bool IsBack(int at) => trace.State[at] == trace.State[i - 1] && (trace.State[at] == CellState.Planned || Math.Abs(trace.Gain[at] - trace.Gain[i - 1]) <= tolerance);
        }
    }

    private static void Plan(NightTrace trace, int from, int to, CellState state)
    {
        for (var i = from; i < to; i++) (trace.State[i], trace.Gain[i]) = (state, trace.Then[i]);
    }

    private static void Say(NightTrace trace, string source, int from, int to, LeftOutBecause because, List<LeftOut> leftOut) =>
        leftOut.Add(new LeftOut(source, trace.Grid.PositionOf(from / FoldGrid.PerBeat), trace.Grid.PositionOf((to + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat), because, trace.Night));
}
