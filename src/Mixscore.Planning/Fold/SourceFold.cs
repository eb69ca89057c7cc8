using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// Finds for one source the marks with which the fit does what a hand did. Two ways are tried for each stretch: all its
/// levels so much higher, and levels as they were heard through the hand; each as close as the source is kept anyway, and closer
/// or wider where the fit would not follow. Of those with which the refitted ride comes as near as is asked, the one with the
/// fewest changes is taken.
/// </summary>
internal sealed class SourceFold
{
    /// <summary>Of a stretch's sounding time the part over which the ride must be within the tolerance; more than the 95 % that is promised, since hands and rides are not cut at the same instants.</summary>
    internal const double Enough = 0.96;

    /// <summary>Where no marks do the same, the part of the stretch's time that those found must win, or they are not worth a change. Our own figure.</summary>
    private const double WorthIt = 0.1;

    private const int Rounds = 3;

    /// <summary>A level and the plan's own behind it: fewer changes are not to be had.</summary>
    private const int FewestChanges = 2;

    /// <summary>From which likeness on it is worth to look for better beats; our own figure.</summary>
    private const double NearlyEnough = 0.8;

    /// <summary>How closely a level may be kept, in LU, where the source's own <c>within</c> lets the ride stand elsewhere, or does not let it rest where the hand rested. Our own figures.</summary>
    private static readonly double[] Closeness = [1.5, 1, 0.5, 3];

    private readonly FoldGrid _grid;
    private readonly FoldFit _fit;
    private readonly SourceToFit _source;
    private readonly ScoreTrace _trace;
    private readonly double?[] _wanted;
    private readonly double?[] _loudness;
    private readonly bool[] _steady;
    private readonly double _tolerance;
    private readonly Limits _limits;

    internal SourceFold(FoldGrid grid, Limits limits, FoldFit fit, SourceToFit source, double?[] wanted, double tolerance)
    {
        (_grid, _limits, _fit, _source, _wanted, _tolerance) = (grid, limits, fit, source, wanted, tolerance);
        _trace = new ScoreTrace(source, grid.Timeline, grid.Fader.Beats);
        _loudness = [.. grid.Middle.Select(_trace.At)];
        _steady = SteadyCells.Of(wanted);
        Now = fit.Ride(source);
    }

    /// <summary>What the stem holds in each cell, LU over the reference at 0 dB; <c>null</c> where it rests.</summary>
    internal IReadOnlyList<double?> Loudness => _loudness;

    /// <summary>The ride as it is.</summary>
    internal Ride Now { get; }

    /// <summary>What was found.</summary>
    /// <param name="Marks">The marks.</param>
    /// <param name="Pieces">The levels that were put in, in order.</param>
    /// <param name="Reached">The stretches, in cells, for which marks were put in, with the part of their time over which the ride is where the hand was.</param>
    /// <param name="Missed">The stretches for which nothing was found that is worth a change.</param>
    internal sealed record Found(FoldedMarks Marks, IReadOnlyList<LevelPiece> Pieces, IReadOnlyList<(int From, int To, double Likeness)> Reached, IReadOnlyList<(int From, int To)> Missed)
    {
        /// <summary>How like the hand the ride is in the stretch of a level.</summary>
        internal double Likeness(FoldGrid grid, LevelPiece piece)
        {
            var cell = grid.CellAt(piece.From.ToDouble());
            return Reached.Where(stretch => stretch.To > cell).Select(stretch => stretch.Likeness).FirstOrDefault(1);
        }
    }

    /// <summary>The part of a stretch's sounding time over which a ride is where the hand was; <c>null</c> where nothing sounds.</summary>
    internal double? Likeness(Ride ride, int from, int to)
    {
        var (time, near) = (0.0, 0.0);
        for (var i = from; i < to; i++)
        {
            if (_wanted[i] is not { } wanted || _loudness[i] is null) continue;
            time += _grid.Seconds[i];
            if (Math.Abs((ride.At(_grid.Middle[i])?.Value ?? _limits.Bottom.Value) - wanted) <= _tolerance) near += _grid.Seconds[i];
        }
        return time > 0 ? near / time : null;
    }

    /// <summary>Finds marks for stretches of cells, in order and apart.</summary>
    internal Found Find(FoldedMarks marks, IReadOnlyList<(int From, int To)> stretches)
    {
        var (now, put, missed) = (marks, new Tried?[stretches.Count], new HashSet<int>());
        // What is put in for one stretch can move the ride in another, so those that were reached are looked at again.
        for (var round = 0; round < Rounds; round++)
        {
            var ride = Ride(now);
            for (var s = 0; s < stretches.Count; s++)
            {
                var likeness = Likeness(ride, stretches[s].From, stretches[s].To);
                if (likeness is null or >= Enough || missed.Contains(s)) continue;
                var next = s + 1 < stretches.Count ? stretches[s + 1].From / FoldGrid.PerBeat : _grid.Fader.Last;
                // Found anew without what was put in for it before, of which something might stay behind.
                var others = put[s] is null ? now : put.Where((_, t) => t != s).OfType<Tried>().Aggregate(marks, (all, tried) => all.With(tried.Pieces, tried.Until));
                if (Best(others, stretches[s], next) is not { } best || best.Likeness < likeness + WorthIt)
                {
                    missed.Add(s);
                    continue;
                }
                (now, put[s]) = (best.Marks, best);
                ride = Ride(now);
            }
        }
        var final = Ride(now);
        return new Found(now, [.. put.OfType<Tried>().SelectMany(tried => tried.Pieces)],
            [.. stretches.Where((_, s) => put[s] is not null).Select(stretch => (stretch.From, stretch.To, Likeness(final, stretch.From, stretch.To) ?? 1))],
            [.. missed.Where(s => put[s] is null).Order().Select(s => stretches[s])]);
    }

    private Tried? Best(FoldedMarks marks, (int From, int To) stretch, int nextBeat)
    {
        Tried? best = null;
        foreach (var pieces in Ways(marks, stretch).Where(pieces => pieces.Count > 0))
        {
            if (Try(marks, pieces, stretch, nextBeat, best) is not { } tried) continue;
            if (tried.Likeness is >= NearlyEnough and < Enough) tried = Settled(marks, tried, stretch, nextBeat);
            if (best is null || IsBetter(tried, best)) best = tried;
            if (best is { Likeness: >= Enough, Changes: <= FewestChanges }) break;
        }
        return best;
    }

    private Tried? Try(FoldedMarks marks, IReadOnlyList<LevelPiece> pieces, (int From, int To) stretch, int nextBeat, Tried? best = null)
    {
        var until = Until(marks, pieces, nextBeat);
        IReadOnlyList<LevelPiece> put = pieces[^1].IsHeld ? [.. pieces.SkipLast(1), pieces[^1] with { To = until }] : pieces;
        var tried = marks.With(put, until);
        var changes = tried.EditsFrom(marks).Count;
        if (best is { Likeness: >= Enough } && changes >= best.Changes) return null;
        return new Tried(tried, pieces, put, until, changes, Likeness(Ride(tried), stretch.From, stretch.To) ?? 0);
    }

    /// <summary>A move takes whole beats and a hand does not: the levels a beat earlier or later, wherever that comes nearer to the hand.</summary>
    private Tried Settled(FoldedMarks marks, Tried tried, (int From, int To) stretch, int nextBeat)
    {
        for (var (edge, since) = (0, 0); since <= tried.Asked.Count && tried.Likeness < Enough; edge = (edge + 1) % (tried.Asked.Count + 1), since++)
            foreach (var by in (int[])[1, -1])
                if (Moved(tried.Asked, edge, by, stretch.From / FoldGrid.PerBeat, nextBeat) is { } moved && Try(marks, moved, stretch, nextBeat) is { } other && other.Likeness > tried.Likeness)
                {
                    (tried, since) = (other, 0);
                    break;
                }
        return tried;
    }

    private List<LevelPiece>? Moved(IReadOnlyList<LevelPiece> pieces, int edge, int by, int first, int last)
    {
        var beat = _grid.Fader.AtOrBefore(edge < pieces.Count ? pieces[edge].From : pieces[^1].To) + by;
        if (beat < first || beat > last) return null;
        var place = _grid.Fader.PlaceOf(beat);
        var moved = pieces.ToList();
        if (edge > 0) moved[edge - 1] = moved[edge - 1] with { To = place };
        if (edge < moved.Count) moved[edge] = moved[edge] with { From = place };
        return moved.Exists(piece => piece.To <= piece.From) ? null : moved;
    }

    /// <summary>What was tried.</summary>
    /// <param name="Marks">The marks.</param>
    /// <param name="Asked">The levels, up to where the hand ends.</param>
    /// <param name="Pieces">The levels, the last one held until the plan's own are back.</param>
    /// <param name="Until">From where on the plan's own levels are back.</param>
    /// <param name="Changes">How many marks are set and taken out.</param>
    /// <param name="Likeness">The part of the time over which the ride is where the hand was.</param>
    private sealed record Tried(FoldedMarks Marks, IReadOnlyList<LevelPiece> Asked, IReadOnlyList<LevelPiece> Pieces, Quarters Until, int Changes, double Likeness);

    private static bool IsBetter(Tried found, Tried other) => (found.Likeness >= Enough, other.Likeness >= Enough) switch
    {
        (true, true) => found.Changes < other.Changes,
        (false, false) => found.Likeness > other.Likeness,
        (var isEnough, _) => isEnough,
    };

    private Ride Ride(FoldedMarks marks) => _fit.Ride(_source with { Levels = marks.Line });

    private IEnumerable<List<LevelPiece>> Ways(FoldedMarks marks, (int From, int To) stretch)
    {
        var (from, to) = Beats(stretch);
        var heard = new HeardLevels(_grid, _wanted, _steady, _loudness, _limits.Bottom.Value, marks.Offset.Value);
        var by = Shift(stretch);
        foreach (var within in Closeness.Where(closeness => closeness != _source.Within.Value).Select(closeness => (double?)closeness).Prepend(null))
        {
            if (by is { } higher) yield return Kept(marks.Shifted(_grid.Fader.PlaceOf(from), _grid.Fader.PlaceOf(to), Decibels.Of(higher)), within);
            var stray = within ?? _source.Within.Value;
            yield return Kept(heard.Of(from, to, Math.Max(stray - 0.2, 0.3)), within);
            yield return Kept(heard.Of(from, to, Math.Min(stray, _tolerance) * 0.7), within);
        }
    }

    /// <summary>The beats over which other levels are needed: not those on which the hand is still, or again, where the ride is, or on its way.</summary>
    private (int From, int To) Beats((int From, int To) stretch)
    {
        bool IsMeant(int i) => _steady[i] && _loudness[i] is not null && Math.Abs((Now.At(_grid.Middle[i])?.Value ?? _limits.Bottom.Value) - _wanted[i]!.Value) > _tolerance / 2;
        var (from, to) = (stretch.From, stretch.To);
        while (from < to && !IsMeant(from)) from++;
        while (to > from && !IsMeant(to - 1)) to--;
        return from == to ? (stretch.From / FoldGrid.PerBeat, (stretch.To + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat) : (from / FoldGrid.PerBeat, (to + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat);
    }

    private static List<LevelPiece> Kept(IReadOnlyList<LevelPiece> pieces, double? within) =>
        [.. pieces.Select(piece => within is { } by && piece is not { Start: Level.Off, End: Level.Off } ? piece with { Within = Decibels.Of(by) } : piece)];

    /// <summary>By how much the hand was over the ride as it is now, to half a decibel; <c>null</c> where one of the two was off.</summary>
    private double? Shift((int From, int To) stretch)
    {
        var (time, over) = (0.0, 0.0);
        for (var i = stretch.From; i < stretch.To; i++)
        {
            if (_wanted[i] is not { } wanted || _loudness[i] is null) continue;
            if (wanted <= _limits.Bottom.Value || Now.At(_grid.Middle[i]) is not { } gain) return null;
            time += _grid.Seconds[i];
            over += (wanted - gain.Value) * _grid.Seconds[i];
        }
        return time > 0 && Math.Round(over / time * 2) / 2 is var by && by != 0 ? by : null;
    }

    /// <summary>Where the plan's own levels are back: so far after the hand that the move to them begins when it has ended, or where a mark or the next hand stands before.</summary>
    private Quarters Until(FoldedMarks marks, IReadOnlyList<LevelPiece> pieces, int nextBeat)
    {
        var end = pieces[^1].To;
        var last = _grid.Fader.AtOrAfter(end);
        if (marks.All.Any(mark => mark.From == end) || last >= nextBeat) return end;
        var most = nextBeat;
        if (marks.Next(end) is { } mark) most = Math.Min(most, _grid.Fader.AtOrAfter(mark));
        var back = last + 1;
        while (back < most && _grid.Fader.StartOfMove(back, Leap(marks, pieces[^1].End, end), last) < last) back++;
        while (back < most && _grid.Fader.MostMove(last, back) < Leap(marks, pieces[^1].End, end)) back++;
        return marks.Next(end) is { } next && _grid.Fader.AtOrAfter(next) <= back ? next : _grid.Fader.PlaceOf(Math.Min(back, most));
    }

    private double Leap(FoldedMarks marks, Level level, Quarters place)
    {
        var line = marks.Line;
        var segment = line.SegmentAt(place);
        var was = AskedLevel.At(line, segment, place.ToDouble(), (_, _) => null);
        return level is Level.At at && was is { } value ? Math.Abs(at.OverReference.Value + marks.Offset.Value - value) : level is Level.Off || segment is LevelSegment.Off ? -_limits.Bottom.Value : 0;
    }
}
