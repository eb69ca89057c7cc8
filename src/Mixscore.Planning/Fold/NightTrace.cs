namespace Mixscore.Planning;

/// <summary>One source in one night, cell by cell. Gains are dB; off lies at the bottom of the fader.</summary>
internal sealed class NightTrace
{
    internal NightTrace(FoldGrid grid, Limits limits, FoldNight night, NightSource source)
    {
        (Night, Grid, Bottom) = (night, grid, limits.Bottom.Value);
        (State, Gain, Then) = (new CellState[grid.Count], new double[grid.Count], new double[grid.Count]);
        for (var i = 0; i < grid.Count; i++) Gain[i] = Then[i] = source.Ride.At(grid.Middle[i])?.Value ?? Bottom;
        foreach (var (from, to) in night.Played) State.AsSpan(Cells(grid, from, to)).Fill(CellState.Planned);
        foreach (var stretch in source.Stretches)
            for (var (i, to) = Cells(grid, stretch.From, stretch.To).Bounds(); i < to; i++) Put(i, stretch, limits);
    }

    internal FoldNight Night { get; }

    internal FoldGrid Grid { get; }

    internal double Bottom { get; }

    /// <summary>What was there.</summary>
    internal CellState[] State { get; }

    /// <summary>Where the fader was wanted.</summary>
    internal double[] Gain { get; }

    /// <summary>Where the plan then in force had it.</summary>
    internal double[] Then { get; }

    private void Put(int i, HandStretch stretch, Limits limits)
    {
        (State[i], Gain[i]) = stretch.Kind switch
        {
            HandKind.Hand => (CellState.Hand, Math.Clamp(stretch.Gain?.Value ?? Bottom, Bottom, limits.Top.Value)),
            HandKind.Offset when Then[i] > Bottom => (CellState.Hand, Math.Clamp(Then[i] + stretch.Gain!.Value.Value, Bottom, limits.Top.Value)),
            HandKind.Offset => (CellState.Planned, Then[i]),
            HandKind.HeldWithAll => (CellState.HeldWithAll, Then[i]),
            _ => (CellState.FeedGone, Then[i]),
        };
    }

    private static Range Cells(FoldGrid grid, double from, double to) => grid.CellAt(from)..grid.CellAt(to);
}

/// <summary>What there was in a cell.</summary>
internal enum CellState
{
    /// <summary>It was not played.</summary>
    NotPlayed,

    /// <summary>The plan alone.</summary>
    Planned,

    /// <summary>A hand or an offset.</summary>
    Hand,

    /// <summary>Held with all others.</summary>
    HeldWithAll,

    /// <summary>The feed was gone under the hand.</summary>
    FeedGone,
}
