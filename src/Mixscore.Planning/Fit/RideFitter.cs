using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// The rides of all sources: for each the fewest vertices that keep it within its level, and among those one nearest to it.
/// </summary>
/// <remarks>
/// <para>
/// The problem for one source. Let q₀ … q_N be the beats (or the halves of them, or the bar lines: the plan's choice), g the ride (straight in dB over quarters between vertices, which
/// stand on beats, the first on q₀ and the last on q_N). At every moment at which the source is active,
/// T − within − L ≤ g ≤ T + within − L, with T the level that its marks ask for and L what its stem holds; everywhere
/// bottom ≤ g ≤ top, and |dg/dt| ≤ speed, judged in each beat at its fastest tempo. The minimum is exact, see
/// <see cref="FewestSegments"/> for the proof and the cost.
/// </para>
/// <para>
/// Sources that lean on others are fitted after them, against those as they will be heard through their rides. A sample at a
/// moment of the stem belongs to the place of the score that sounded there, the link's delay earlier: the ride moves with
/// the sound.
/// </para>
/// </remarks>
public static class RideFitter
{
    /// <summary>Fits all sources.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="limits">What a fader may do.</param>
    /// <param name="sources">The sources; those that are leaned on must be among them.</param>
    /// <returns>The rides, in the order of the sources.</returns>
    /// <exception cref="ArgumentException">Two sources share a name, one leans on a source that is not there, or they lean in a circle.</exception>
    public static IReadOnlyList<FittedSource> Fit(Timeline timeline, Limits limits, IReadOnlyList<SourceToFit> sources)
    {
        var grids = new FaderGrids(timeline, limits, sources);
        return ClearDemands.Meet(timeline, grids, sources, tried => FitAll(timeline, limits, grids, tried));
    }

    private static IReadOnlyList<FittedSource> FitAll(Timeline timeline, Limits limits, FaderGrids grids, IReadOnlyList<SourceToFit> sources)
    {
        var heard = new HeardSources();
        var fitted = new Dictionary<string, FittedSource>(StringComparer.Ordinal);
        foreach (var wave in LeaningOrder.Waves(sources))
        {
            // Those of a wave lean on earlier waves alone, so they may be fitted side by side.
            var done = new (ScoreTrace Trace, FittedSource Fitted)[wave.Count];
            Parallel.For(0, wave.Count, i =>
            {
                var grid = grids[wave[i]];
                var trace = new ScoreTrace(wave[i], timeline, grid.Beats);
                done[i] = (trace, FitOne(wave[i], timeline, limits, grid, trace, heard.Together));
            });
            for (var i = 0; i < done.Length; i++)
            {
                fitted.Add(wave[i].Name, done[i].Fitted);
                heard.Add(wave[i], done[i].Trace, done[i].Fitted.Ride);
            }
        }
        return [.. sources.Select(source => fitted[source.Name])];
    }

    private static FittedSource FitOne(
        SourceToFit source, Timeline timeline, Limits limits, FaderGrid grid, ScoreTrace trace, HeardTogether heard)
    {
        var steps = StepMoves.Of(source, grid, trace, limits, heard);
        var problem = AskedBand.Of(source, grid, trace, steps, limits, heard);
        var solution = BandFit.Solve(problem);
        var ride = new Ride(
            source.Name,
            [.. solution.Knots.Select(knot => new Vertex(grid.PlaceOf(knot.Beat), knot.Gain is { } gain ? Decibels.Of(gain) : null))],
            limits.Bottom);
        return new FittedSource(ride, new WideningReport(source, timeline, limits, grid).Of(problem, solution.Widened, ride, steps.Swallowed));
    }
}
