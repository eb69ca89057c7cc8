namespace Mixscore.Planning;

/// <summary>
/// The convex set of straight lines u + m·t that keep every demand clipped so far: u is the value at t = 0 in dB, m the
/// slope in dB a quarter. Upper bounds must be clipped in ascending order of t, and lower bounds likewise. Where edges are
/// asked for, they are the demands that still matter.
/// </summary>
/// <remarks>
/// This is the polygon of O'Rourke, An on-line algorithm for fitting straight lines between data ranges (CACM 24, 1981). An
/// upper bound at t is an edge with the normal (1, t), a lower one (−1, −t), the limits of slope (0, ±1). Sorted by angle,
/// the edges are: the limit downward, the upper bounds by ascending t, the limit upward, the lower bounds by ascending t. So
/// the corner between the last upper bound and what follows it is the line that is highest at any t from the last one on,
/// and its counterpart the lowest; a new bound cuts there, drops corners on both sides of it and puts its edge in. Every
/// corner is dropped once: a clip costs O(1) on average, however many corners there are.
/// </remarks>
internal sealed class LinePolygon(bool withEdges)
{
    /// <summary>From the lowest corner by way of the upper bounds to the highest.</summary>
    private readonly LineChain _uppers = new(withEdges);

    /// <summary>From the highest corner by way of the lower bounds to the lowest.</summary>
    private readonly LineChain _lowers = new(withEdges);

    public bool IsEmpty { get; private set; } = true;

    /// <summary>The steepest fall and the upper bounds that still matter, if edges are kept and a line is left.</summary>
    public ReadOnlySpan<LineEdge> UpperEdges => IsEmpty ? [] : _uppers.Edges;

    /// <summary>The steepest rise and the lower bounds that still matter, if edges are kept and a line is left.</summary>
    public ReadOnlySpan<LineEdge> LowerEdges => IsEmpty ? [] : _lowers.Edges;

    /// <summary>Begins as a box of all lines with u and m in these ranges.</summary>
    public void Box(double low, double high, double steepest)
    {
        IsEmpty = !(low <= high);
        if (IsEmpty) return;
        _uppers.Begin(new LineCorner(low, -steepest));
        _uppers.Append(new LineEdge(0, -1, steepest), new LineCorner(high, -steepest));
        _uppers.Append(new LineEdge(1, 0, high), new LineCorner(high, steepest));
        _lowers.Begin(new LineCorner(high, steepest));
        _lowers.Append(new LineEdge(0, 1, steepest), new LineCorner(low, steepest));
        _lowers.Append(new LineEdge(-1, 0, -low), new LineCorner(low, -steepest));
    }

    /// <summary>Keeps the lines with a value of at least this at t.</summary>
    public void ClipLow(double t, double low)
    {
        if (IsEmpty || !(_lowers.Last.At(t) < low)) return;
        CutBound(_lowers, _uppers, new LineEdge(-1, -t, -low));
    }

    /// <summary>Keeps the lines with a value of at most this at t.</summary>
    public void ClipHigh(double t, double high)
    {
        if (IsEmpty || !(_uppers.Last.At(t) > high)) return;
        CutBound(_uppers, _lowers, new LineEdge(1, t, high));
    }

    /// <summary>Keeps the lines that are no steeper, up or down.</summary>
    public void ClipSlope(double steepest)
    {
        if (!IsEmpty && _uppers.Last.M > steepest) CutSlope(_uppers, _lowers, new LineEdge(0, 1, steepest));
        if (!IsEmpty && -_lowers.Last.M > steepest) CutSlope(_lowers, _uppers, new LineEdge(0, -1, steepest));
    }

    /// <summary>The range of values at t, which must lie at or after all bounds clipped; empty where no line is left.</summary>
    public ValueRange RangeAt(double t) => IsEmpty
        ? new ValueRange(double.PositiveInfinity, double.NegativeInfinity)
        : new ValueRange(_lowers.Last.At(t), _uppers.Last.At(t));

    /// <summary>The range of values at t over the lines whose u lies in a range.</summary>
    /// <returns>Whether there are any.</returns>
    public bool TryProject(double low, double high, double t, out double least, out double most)
    {
        (least, most) = (double.PositiveInfinity, double.NegativeInfinity);
        if (IsEmpty) return false;
        Project(_uppers.Corners, low, high, t, ref least, ref most);
        Project(_lowers.Corners, low, high, t, ref least, ref most);
        return least <= most;
    }

    private static void Project(ReadOnlySpan<LineCorner> corners, double low, double high, double t, ref double least, ref double most)
    {
        for (var i = 0; i < corners.Length; i++)
        {
            var here = corners[i];
            if (here.U >= low && here.U <= high) Take(here.At(t), ref least, ref most);
            if (i + 1 == corners.Length) return;
            var next = corners[i + 1];
            if (here.U < low != next.U < low) Take(low + SlopeAt(here, next, low) * t, ref least, ref most);
            if (here.U > high != next.U > high) Take(high + SlopeAt(here, next, high) * t, ref least, ref most);
        }
    }

    private static void Take(double value, ref double least, ref double most)
    {
        if (value < least) least = value;
        if (value > most) most = value;
    }

    private static double SlopeAt(LineCorner a, LineCorner b, double u) => a.M + (b.M - a.M) * ((u - a.U) / (b.U - a.U));

    /// <summary>A bound becomes the last edge of its own half; the other half begins where it ends.</summary>
    private void CutBound(LineChain own, LineChain other, in LineEdge edge)
    {
        if (!Cut(own, other, edge)) return;
        own.Append(edge, other.First);
    }

    /// <summary>A limit of slope becomes the first edge of the half behind the corner that it cuts.</summary>
    private void CutSlope(LineChain before, LineChain behind, in LineEdge edge)
    {
        if (!Cut(before, behind, edge)) return;
        behind.Prepend(before.Last, edge);
    }

    /// <summary>Cuts the corner between two halves away, which lies over an edge: both then end on the edge.</summary>
    /// <returns>Whether anything is left.</returns>
    private bool Cut(LineChain before, LineChain behind, in LineEdge edge)
    {
        // Where all of one half is cut away, so is the end of the other that joins it there.
        if (!before.CutEnd(edge))
        {
            if (behind.CutEnd(edge)) before.Begin(behind.Last);
            else IsEmpty = true;
        }
        // Bounds of one kind alone enclose nothing: with the half behind, all is gone.
        if (!IsEmpty && !behind.CutStart(edge)) IsEmpty = true;
        return !IsEmpty;
    }
}
