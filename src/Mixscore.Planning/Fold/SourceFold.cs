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

    /// <summary>How closely a level may be kept, in LU, where the source's own <c>within</c> lets the ride stand elsewhere, or does not let it rest where the hand rested. Our own figures.</summary>
    private static readonly double[] Closeness = [1.5, 1, 0.5, 3, 5];

    private readonly FoldGrid _grid;
    private readonly FoldFit _fit;
    private readonly SourceToFit _source;
    private readonly ScoreTrace _trace;
    private readonly double?[] _wanted;
    private readonly double?[] _loudness;
    private readonly double _tolerance;
    private readonly Limits _limits;

    internal SourceFold(FoldGrid grid, Limits limits, FoldFit fit, SourceToFit source, double?[] wanted, double tolerance)
    {
        (_grid, _limits, _fit, _source, _wanted, _tolerance) = (grid, limits, fit, source, wanted, tolerance);
        _trace = new ScoreTrace(source, grid.Timeline, grid.Fader.Beats);
        _loudness = [.. grid.Middle.Select(_trace.At)];
    }

    /// <summary>What was found.</summary>
    /// <param name="Marks">The marks.</param>
    /// <param name="Pieces">The levels that were put in, in order.</param>
    /// <param name="NotReached">The stretches, in cells, for which nothing was found.</param>
    internal sealed record Found(FoldedMarks Marks, IReadOnlyList<LevelPiece> Pieces, IReadOnlyList<(int From, int To)> NotReached)
    {
        /// <summary>How many marks are set and taken out.</summary>
        internal int Changes { get; init; }
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
        var (now, pieces) = (marks, new List<LevelPiece>());
        for (var s = 0; s < stretches.Count; s++)
        {
            var next = s + 1 < stretches.Count ? stretches[s + 1].From / FoldGrid.PerBeat : _grid.Fader.Last;
            if (Best(now, stretches[s], next) is not { } found) continue;
            now = found.Marks;
            pieces.AddRange(found.Pieces);
        }
        var ride = Ride(now);
        return new Found(now, pieces, [.. stretches.Where(stretch => !IsReached(ride, stretch))]);
    }

    private Found? Best(FoldedMarks marks, (int From, int To) stretch, int nextBeat)
    {
        if (IsReached(Ride(marks), stretch)) return null;
        (Found Found, double Likeness)? best = null;
        foreach (var pieces in Ways(marks, stretch))
        {
            if (pieces.Count == 0) continue;
            var until = Until(marks, pieces, nextBeat);
            if (pieces[^1].IsHeld) pieces[^1] = pieces[^1] with { To = until };
            var tried = marks.With(pieces, until);
            var changes = tried.EditsFrom(marks).Count;
            if (best is { Likeness: >= Enough } && changes >= best.Value.Found.Changes) continue;
            var likeness = Likeness(Ride(tried), stretch.From, stretch.To) ?? 0;
            var found = new Found(tried, pieces, []) { Changes = changes };
            if (best is not { } other || IsBetter(found, likeness, other.Found, other.Likeness)) best = (found, likeness);
        }
        return best?.Found;
    }

    private static bool IsBetter(Found found, double likeness, Found other, double otherLikeness) =>
        (likeness >= Enough, otherLikeness >= Enough) switch
        {
            (true, true) => found.Changes < other.Changes,
            (false, false) => likeness > otherLikeness,
            (var isEnough, _) => isEnough,
        };

    private bool IsReached(Ride ride, (int From, int To) stretch) => Likeness(ride, stretch.From, stretch.To) is not { } likeness || likeness >= Enough;

    private Ride Ride(FoldedMarks marks) => _fit.Ride(_source with { Levels = marks.Line });

    private IEnumerable<List<LevelPiece>> Ways(FoldedMarks marks, (int From, int To) stretch)
    {
        var (from, to) = (stretch.From / FoldGrid.PerBeat, (stretch.To + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat);
        var heard = new HeardLevels(_grid, _wanted, _loudness, _limits.Bottom.Value);
        var by = Shift(stretch);
        foreach (var within in Closeness.Where(closeness => closeness != _source.Within.Value).Select(closeness => (double?)closeness).Prepend(null))
        {
            if (by is { } higher) yield return Kept(marks.Shifted(_grid.Fader.PlaceOf(from), _grid.Fader.PlaceOf(to), Decibels.Of(higher)), within);
            var stray = within ?? _source.Within.Value;
            yield return Kept(heard.Of(from, to, Math.Max(stray - 0.2, 0.3)), within);
            yield return Kept(heard.Of(from, to, Math.Min(stray, _tolerance) * 0.7), within);
        }
    }

    private static List<LevelPiece> Kept(IReadOnlyList<LevelPiece> pieces, double? within) =>
        [.. pieces.Select(piece => within is { } by && piece is not { Start: Level.Off, End: Level.Off } ? piece with { Within = Decibels.Of(by) } : piece)];

    /// <summary>By how much the hand was over the ride as it is now, to half a decibel; <c>null</c> where one of the two was off.</summary>
    private double? Shift((int From, int To) stretch)
    {
        var ride = _fit.Ride(_source);
        var (time, over) = (0.0, 0.0);
        for (var i = stretch.From; i < stretch.To; i++)
        {
            if (_wanted[i] is not { } wanted || _loudness[i] is null) continue;
            if (wanted <= _limits.Bottom.Value || ride.At(_grid.Middle[i]) is not { } gain) return null;
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
        while (back < most && _grid.Fader.StartOfMove(back, Leap(marks.Line, pieces[^1].End, end), last) < last) back++;
        while (back < most && _grid.Fader.MostMove(last, back) < Leap(marks.Line, pieces[^1].End, end)) back++;
        return marks.Next(end) is { } next && _grid.Fader.AtOrAfter(next) <= back ? next : _grid.Fader.PlaceOf(Math.Min(back, most));
    }

    private double Leap(LevelLine line, Level level, Quarters place)
    {
        var segment = line.SegmentAt(place);
        var was = AskedLevel.At(line, segment, place.ToDouble(), (_, _) => null);
        return level is Level.At at && was is { } value ? Math.Abs(at.OverReference.Value - value) : level is Level.Off || segment is LevelSegment.Off ? -_limits.Bottom.Value : 0;
    }
}
