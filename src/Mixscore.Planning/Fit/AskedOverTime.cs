using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// What the marks of sources ask to be heard, place by place, once their rides are known: what a check compares with what
/// is heard. Where a leap in the marks is made into a move, all that lies between its two levels is right.
/// </summary>
public sealed class AskedOverTime
{
    private readonly SourceToFit _source;
    private readonly FaderGrid _grid;
    private readonly StepMoves _steps;
    private readonly HeardTogether _heard;

    private AskedOverTime(SourceToFit source, FaderGrid grid, StepMoves steps, HeardTogether heard) =>
        (_source, _grid, _steps, _heard) = (source, grid, steps, heard);

    /// <summary>What is asked of every source.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="limits">What a fader may do: how long a move takes.</param>
    /// <param name="sources">The sources; those that are leaned on must be among them.</param>
    /// <param name="rides">A ride a source: what those are heard at that others lean on.</param>
    /// <returns>By the source's name.</returns>
    public static IReadOnlyDictionary<string, AskedOverTime> Of(Timeline timeline, Limits limits, IReadOnlyList<SourceToFit> sources, IReadOnlyList<Ride> rides)
    {
        var grids = new FaderGrids(timeline, limits, sources);
        var all = new HeardSources();
        var bySource = rides.ToDictionary(ride => ride.Source, StringComparer.Ordinal);
        var asked = new Dictionary<string, AskedOverTime>(StringComparer.Ordinal);
        foreach (var source in LeaningOrder.Of(sources))
        {
            var grid = grids[source];
            var trace = new ScoreTrace(source, timeline, grid.Beats);
            asked.Add(source.Name, new AskedOverTime(source, grid, StepMoves.Of(source, grid, trace, limits, all.Together), all.Together));
            all.Add(source, trace, bySource[source.Name]);
        }
        return asked;
    }

    /// <summary>What is asked at a place.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    /// <returns>
    /// In LU over the reference: what the marks ask, and the lowest and highest level that is right; <c>null</c> for off.
    /// </returns>
    public (double? Target, double? Low, double? High) At(double quarters)
    {
        var segment = _source.Levels.SegmentAt(quarters);
        var target = segment is LevelSegment.Off ? null : AskedLevel.At(_source.Levels, segment, quarters, _heard);
        if (target is not { } level || MoveAt(quarters) is not { } move) return (target, target, target);
        if (move.IsIntoOff) return (level, null, level);
        var next = AskedLevel.At(_source.Levels, move.After, move.Place.ToDouble(), _heard) ?? level;
        return (level, Math.Min(level, next), Math.Max(level, next));
    }

    private StepMove? MoveAt(double quarters)
    {
        foreach (var move in _steps.Moves)
            if (_grid.Beats[move.Start] <= quarters && quarters < move.Place.ToDouble()) return move;
        return null;
    }
}
