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
    private readonly List<(int Segments, ValueSet Values)>[] _reached;   // by beat: each time that the set grew
    private readonly ValueSet[] _before;                                 // after the layers that are done
    private readonly ValueSet[] _now;                                    // with what this layer has found so far
    private readonly bool[] _full;
    private readonly List<int> _grown = [];                              // the beats whose sets this layer has let grow

    private FewestSegments(LineBand band, bool mayGoStraight)
    {
        (_band, _mayGoStraight) = (band, mayGoStraight);
        _reached = new List<(int, ValueSet)>[band.Last + 1];
        for (var i = 0; i <= band.Last; i++) _reached[i] = [];
        (_before, _now) = (new ValueSet[band.Last + 1], new ValueSet[band.Last + 1]);
        Array.Fill(_before, ValueSet.Empty);
        Array.Fill(_now, ValueSet.Empty);
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
        Grow(0, _band.Possible[0]);
        var sweep = new LineSweep(_band, withCosts: false);
        for (Count = 0; ; Count++)
        {
            var starts = EndLayer();
            if (!_before[_band.Last].IsEmpty) return;
            if (starts.Length == 0) throw new UnreachableException("a band that can be ridden from beat to beat has a ride");
            foreach (var start in starts) Spread(sweep, start);
        }
    }

    /// <summary>Puts on record what the layer has found.</summary>
    /// <returns>The beats whose sets grew, ascending.</returns>
    private int[] EndLayer()
    {
        int[] grown = [.. _grown.Order()];
        _grown.Clear();
        foreach (var beat in grown) _reached[beat].Add((Count, _before[beat] = _now[beat]));
        return grown;
    }

    /// <summary>Everything that one more segment reaches from a beat.</summary>
    private void Spread(LineSweep sweep, int start)
    {
        var from = _before[start];
        sweep.Begin(start, from.Hull);
        for (var b = start + 1; b <= _band.Last && sweep.Extend(); b++)
        {
            if (_before[b].Covers(sweep.Range, BandFit.Rounding)) return;
            if (_full[b] || (b == _band.Last && start == 0 && !_mayGoStraight)) continue;
            if (from.Ranges.Length == 1) Grow(b, sweep.Range);
            else foreach (var range in from.Ranges)
                if (sweep.Lines.TryProject(range.Low, range.High, sweep.Length, out var low, out var high))
                    Grow(b, new ValueRange(low, high));
        }
    }

    private void Grow(int beat, in ValueRange range)
    {
        var known = _now[beat];
        if (known.Covers(range, BandFit.Rounding)) return;
        if (ReferenceEquals(known, _before[beat]))
        {
            _grown.Add(beat);
            _now[beat] = known.With(range);
        }
        else known.Include(range);
        _full[beat] = _now[beat].Covers(_band.Possible[beat], BandFit.Rounding);
    }
}
