using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// Turns the leaps of a level line into moves that a fader can make, and finds where it is off. A move ends on the leap's
/// place, or on the last beat before it, and begins as many whole beats earlier as the speed needs, but not before the
/// mark that it leaves. Out of off and into off the move is part of the time that the source is not yet, or no longer,
/// held to a level; between two levels the band over the move is that of both and all between.
/// </summary>
internal sealed class StepMoves
{
    private readonly SourceToFit _source;
    private readonly FaderGrid _grid;
    private readonly ScoreTrace _trace;
    private readonly HeardTogether _heard;
    private readonly Limits _limits;
    private readonly List<OffStretch> _off = [];
    private readonly List<StepMove> _moves = [];
    private readonly List<LevelSegment> _swallowed = [];
    private readonly List<LevelSegment> _run = [];   // the segments since it was opened
    private int? _offSince;
    private int _openSince;

    private StepMoves(SourceToFit source, FaderGrid grid, ScoreTrace trace, Limits limits, HeardTogether heard) =>
        (_source, _grid, _trace, _limits, _heard) = (source, grid, trace, limits, heard);

    /// <summary>Where the fader is off, ascending and apart.</summary>
    public OffStretch[] Off => [.. _off];

    /// <summary>The moves between levels and into off, in order.</summary>
    public IReadOnlyList<StepMove> Moves => _moves;

    /// <summary>Segments that ask for a level but lie between two stretches off without a beat of their own.</summary>
    public IReadOnlyList<LevelSegment> Swallowed => _swallowed;

    public static StepMoves Of(SourceToFit source, FaderGrid grid, ScoreTrace trace, Limits limits, HeardTogether heard)
    {
        var work = new StepMoves(source, grid, trace, limits, heard);
        var segments = source.Levels.Segments;
        if (AskedLevel.StartsOff(segments[0])) work._offSince = 0;
        if (!AskedLevel.StartsOff(segments[0]) || segments[0] is LevelSegment.Straight { Start: null }) work.Open(0, 0, segments[0]);
        for (var i = 1; i < segments.Count; i++) work.Join(segments[i - 1], segments[i]);
        if (segments[^1] is LevelSegment.Straight { End: null }) work.Close(grid.Last);
        if (work._offSince is { } since) work._off.Add(new OffStretch(since, grid.Last));
        return work;
    }

    private void Join(LevelSegment before, LevelSegment after)
    {
        var place = after.From;
        var beat = _grid.AtOrBefore(place);
        var (wasOff, isOff) = (AskedLevel.EndsOff(before), AskedLevel.StartsOff(after));
        var earliest = _grid.AtOrAfter(before.From);
        if (wasOff && before is LevelSegment.Straight) Close(beat);
        if (!wasOff && isOff)
        {
            _moves.Add(new StepMove(_grid.StartOfMove(beat, AboveBottom(before, place, isEnd: true), earliest), beat, place, before, after));
            Close(beat);
        }
        if (wasOff && !isOff) Open(_grid.StartOfMove(beat, AboveBottom(after, place, isEnd: false), _offSince ?? beat), beat, after);
        else if (isOff && after is LevelSegment.Straight) Open(beat, beat, after);
        else if (!wasOff && !isOff)
        {
            _run.Add(after);
            if (Leap(before, after) is var leap && leap != 0)
                _moves.Add(new StepMove(_grid.StartOfMove(beat, leap, earliest), beat, place, before, after));
        }
    }

    /// <summary>Ends a stretch that is off, if there is one, on a beat; the level is reached on another.</summary>
    private void Open(int from, int reached, LevelSegment segment)
    {
        if (_offSince is { } since) _off.Add(new OffStretch(since, Math.Max(since, from)));
        (_offSince, _openSince) = (null, reached);
        _run.Clear();
        _run.Add(segment);
    }

    /// <summary>Begins a stretch that is off. Where the source was not open for a beat, it has been off since the stretch before.</summary>
    private void Close(int beat)
    {
        _offSince = beat;
        if (beat > _openSince) return;
        _swallowed.AddRange(_run);
        _moves.RemoveAll(move => move.Start >= _openSince);
        if (_off.Count == 0) return;
        _offSince = _off[^1].From;
        _off.RemoveAt(_off.Count - 1);
    }

    /// <summary>How far over the bottom the gain lies that a segment asks for where it begins or ends, as near as the loudness there tells.</summary>
    private double AboveBottom(LevelSegment segment, Quarters place, bool isEnd)
    {
        var at = place.ToDouble();
        var loudness = isEnd ? _trace.LastUpTo(at, segment.From.ToDouble()) : _trace.FirstFrom(at, segment.To.ToDouble());
        var level = AskedLevel.At(_source.Levels, segment, at, _heard) ?? _limits.Bottom.Value;
        return Math.Clamp(level - (loudness ?? 0), _limits.Bottom.Value, _limits.Top.Value) - _limits.Bottom.Value;
    }

    /// <summary>How far the level leaps; 0 where it does not, or where one side leans on what is not heard.</summary>
    private double Leap(LevelSegment before, LevelSegment after)
    {
        var at = after.From.ToDouble();
        var leap = AskedLevel.At(_source.Levels, after, at, _heard) - AskedLevel.At(_source.Levels, before, at, _heard);
        return leap is { } by && Math.Abs(by) > BandFit.Tolerance ? by : 0;
    }
}

/// <summary>A move that a leap in the levels asks for.</summary>
/// <param name="Start">The beat on which it begins.</param>
/// <param name="Done">The beat on which it ends; equal to the start where there is no time for it.</param>
/// <param name="Place">The place of the leap.</param>
/// <param name="Before">The segment that it leaves.</param>
/// <param name="After">The segment that it reaches.</param>
internal sealed record StepMove(int Start, int Done, Quarters Place, LevelSegment Before, LevelSegment After)
{
    /// <summary>Whether it ends off.</summary>
    public bool IsIntoOff => AskedLevel.StartsOff(After);
}
