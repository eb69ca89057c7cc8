namespace Mixscore.Planning;

/// <summary>
/// Where a move does well to begin: on a bar line, or while the source rests. Of rides with equally many vertices one is
/// taken whose vertices stand there, unless it strays further from the middle than that is worth.
/// </summary>
internal static class GoodBeats
{
    /// <summary>
    /// What a vertex elsewhere counts, in dB² over samples of 100 ms: as much as half a dB off the middle for two seconds.
    /// Our own, by ear.
    /// </summary>
    private const double Elsewhere = 5;

    /// <summary>For each beat what a vertex there counts.</summary>
    public static double[] Costs(FaderGrid grid, ScoreTrace trace)
    {
        var costs = new double[grid.Beats.Length];
        var last = 0;
        foreach (var (at, _) in trace.Active)
        {
            while (last < grid.Last && grid.Beats[last + 1] <= at) last++;
            costs[last] = Elsewhere;
        }
        for (var beat = 0; beat < costs.Length; beat++)
            if (grid.IsBarLine[beat]) costs[beat] = 0;
        return costs;
    }
}
