using System.Diagnostics;

namespace Mixscore.Planning;

/// <summary>
/// The fewest segments from a piece's first beat to its last, and for every beat the gains that can be reached with so
/// many: exact.
/// </summary>
/// <remarks>
/// <para>
/// Let C(a, b) be the pairs (u, v) such that the straight line from u on beat a to v on beat b keeps every demand from a
/// to b. It is convex: every demand on the way is linear in u and v. Let R(k, b) be the gains at b that some ride with at
/// most k segments has which obeys up to b. A ride with k segments that ends on b is one with k − 1 that ends on some
/// a &lt; b, and a segment from there, and that segment asks nothing of what came before but its own u; so
/// R(k, b) = R(k − 1, b) ∪ ⋃ a &lt; b { v : (u, v) ∈ C(a, b), u ∈ R(k − 1, a) }, with R(0, ·) the gains at the first beat.
/// Each R is a union of few closed ranges, not always one: two choices of knots may leave a gap between them. The first
/// k for which R(k, last) holds a gain is the fewest, as every ride of k segments is counted in R(k, ·) by induction.
/// </para>
/// <para>
/// A start is taken in layer k + 1 only if its set grew in layer k; C(a, ·) is grown beat by beat and given up when
/// empty, for a line that fails up to b fails beyond it. It is also given up at a beat c whose R(k, c) holds all that
/// the lines from a have there: whatever they reach beyond c, the parts of them from c on reach with as many segments.
/// What lies outside the chain with a vertex on every beat is cut off at once: no ride that obeys passes there.
/// </para>
/// <para>
/// Cost: with n beats, w the beats a layer whose sets are still growing, s the longest feasible span in beats, h the
/// samples a beat on the hulls and c the corners of a polygon (four to eight): O(n·h·c) for the chain and
/// O(w·s·(h + c)) a layer. As w and s are about a segment's length, that is O(n·s·(h + c)) in all.
/// </para>
/// <para>
/// Rounding: every demand is eased by <see cref="BandFit.Tolerance"/>. A ride that obeys may be shifted by that much and
/// still obeys the eased demands, and rounding is a thousand times smaller, so none is missed; one that is found obeys
/// to within the tolerance.
/// </para>
/// </remarks>
internal sealed class FewestSegments
{
    private readonly LineBand _band;
    private readonly bool _mayGoStraight;
    private readonly List<(int Segments, ValueSet Values)>[] _reached;
    private readonly bool[] _full;

    private FewestSegments(LineBand band, bool mayGoStraight)
    {
        (_band, _mayGoStraight) = (band, mayGoStraight);
        _reached = new List<(int, ValueSet)>[band.Last + 1];
        for (var i = 0; i <= band.Last; i++) _reached[i] = [];
        _full = new bool[band.Last + 1];
    }

    /// <summary>The fewest segments.</summary>
    public int Count { get; private set; }

    /// <summary>Finds them.</summary>
    /// <param name="band">A band that a ride can pass.</param>
    /// <param name="mayGoStraight">Whether one segment may join the ends; not where both are off, for then it is off itself.</param>
    public static FewestSegments Find(LineBand band, bool mayGoStraight)
    {
        var search = new FewestSegments(band, mayGoStraight);
        search.Run();
        return search;
    }

    /// <summary>The gains at a beat that a ride with at most so many segments has there.</summary>
    public ValueSet At(int beat, int segments)
    {
        var levels = _reached[beat];
        for (var i = levels.Count - 1; i >= 0; i--)
            if (levels[i].Segments <= segments) return levels[i].Values;
        return ValueSet.Empty;
    }

    private void Run()
    {
        _reached[0].Add((0, new ValueSet(_band.Possible[0])));
        var sweep = new LineSweep(_band, withEdges: false);
        var starts = new List<int> { 0 };
        var grew = new bool[_band.Last + 1];
        for (var k = 1; k <= _band.Last; k++)
        {
            foreach (var a in starts) Spread(sweep, a, k, grew);
            if (grew[_band.Last])
            {
                Count = k;
                return;
            }
            starts.Clear();
            for (var b = 0; b < grew.Length; b++)
                if (grew[b]) starts.Add(b);
            Array.Clear(grew);
        }
        throw new UnreachableException("a band that can be ridden from beat to beat has a ride");
    }

    /// <summary>Everything that one more segment reaches from a beat.</summary>
    private void Spread(LineSweep sweep, int start, int segments, bool[] grew)
    {
        var from = At(start, segments - 1);
        sweep.Begin(start, from.Hull);
        for (var b = start + 1; b <= _band.Last && sweep.Extend(); b++)
        {
            if (At(b, segments - 1).Covers(sweep.Range, BandFit.Rounding)) return;
            if (_full[b] || (b == _band.Last && start == 0 && !_mayGoStraight)) continue;
            if (from.Ranges.Length == 1) grew[b] |= Add(b, segments, sweep.Range);
            else foreach (var range in from.Ranges)
                if (sweep.Lines.TryProject(range.Low, range.High, sweep.Length, out var low, out var high))
                    grew[b] |= Add(b, segments, new ValueRange(low, high));
        }
    }

    private bool Add(int beat, int segments, ValueRange range)
    {
        var known = At(beat, segments);
        if (known.Covers(range, BandFit.Rounding)) return false;
        var levels = _reached[beat];
        if (levels.Count > 0 && levels[^1].Segments == segments) levels[^1] = (segments, known.With(range));
        else levels.Add((segments, known.With(range)));
        _full[beat] = levels[^1].Values.Covers(_band.Possible[beat], BandFit.Rounding);
        return true;
    }
}
