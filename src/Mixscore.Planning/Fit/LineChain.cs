namespace Mixscore.Planning;

/// <summary>
/// Half of a <see cref="LinePolygon"/>'s corners in their order, open at both ends: its first corner is the other half's
/// last, and its last the other's first. Where edges are kept, each corner but the last carries the edge that leaves it.
/// </summary>
internal sealed class LineChain(bool withEdges)
{
    /// <summary>Room before the first corner, for the few edges that come in there.</summary>
    private const int Front = 4;

    private LineCorner[] _corners = new LineCorner[32];
    private LineEdge[] _edges = withEdges ? new LineEdge[32] : [];
    private int _first;
    private int _last;

    public LineCorner First => _corners[_first];

    public LineCorner Last => _corners[_last];

    public ReadOnlySpan<LineCorner> Corners => _corners.AsSpan(_first..(_last + 1));

    public ReadOnlySpan<LineEdge> Edges => _edges.AsSpan(_first.._last);

    /// <summary>Begins anew with one corner.</summary>
    public void Begin(LineCorner corner) => _corners[_first = _last = Front] = corner;

    /// <summary>Puts an edge behind the last corner, and the corner that it leads to.</summary>
    public void Append(in LineEdge edge, LineCorner to)
    {
        if (_last + 1 == _corners.Length) Grow();
        if (withEdges) _edges[_last] = edge;
        _corners[++_last] = to;
    }

    /// <summary>Puts an edge before the first corner, and the corner that it comes from.</summary>
    public void Prepend(LineCorner from, in LineEdge edge)
    {
        if (_first == 0) Grow();
        _corners[--_first] = from;
        if (withEdges) _edges[_first] = edge;
    }

    /// <summary>Drops the corners at the end that lie over an edge, the last of which does, and ends on that edge instead.</summary>
    /// <returns>Whether a corner was left.</returns>
    public bool CutEnd(in LineEdge edge)
    {
        var beyond = edge.Over(_corners[_last]);
        while (_last > _first)
        {
            var before = edge.Over(_corners[_last - 1]);
            if (before <= 0)
            {
                _corners[_last] = LineCorner.Between(_corners[_last - 1], before, _corners[_last], beyond);
                return true;
            }
            beyond = before;
            _last--;
        }
        return false;
    }

    /// <summary>Drops the corners at the start that lie over an edge, the first of which does, and starts on that edge instead.</summary>
    /// <returns>Whether a corner was left.</returns>
    public bool CutStart(in LineEdge edge)
    {
        var beyond = edge.Over(_corners[_first]);
        while (_first < _last)
        {
            var after = edge.Over(_corners[_first + 1]);
            if (after <= 0)
            {
                _corners[_first] = LineCorner.Between(_corners[_first], beyond, _corners[_first + 1], after);
                return true;
            }
            beyond = after;
            _first++;
        }
        return false;
    }

    private void Grow()
    {
        var count = _last + 1 - _first;
        var front = Math.Max(Front, count / 2);
        var corners = new LineCorner[2 * count + 2 * front];
        _corners.AsSpan(_first, count).CopyTo(corners.AsSpan(front));
        _corners = corners;
        if (withEdges)
        {
            var edges = new LineEdge[corners.Length];
            _edges.AsSpan(_first, count).CopyTo(edges.AsSpan(front));
            _edges = edges;
        }
        (_first, _last) = (front, front + count - 1);
    }
}

/// <summary>A line u + m·t: its value at t = 0 in dB, and its slope in dB a quarter.</summary>
internal readonly record struct LineCorner(double U, double M)
{
    public double At(double t) => U + M * t;

    /// <summary>Where the way from one line to another crosses an edge, one of which lies over it.</summary>
    public static LineCorner Between(LineCorner here, double over, LineCorner next, double nextOver)
    {
        var part = over / (over - nextOver);
        return new LineCorner(here.U + (next.U - here.U) * part, here.M + (next.M - here.M) * part);
    }
}

/// <summary>The half-plane p·u + r·m ≤ c of lines that keep a demand.</summary>
internal readonly record struct LineEdge(double P, double R, double C)
{
    /// <summary>By how much a line breaks the demand; 0 or less where it keeps it.</summary>
    public double Over(LineCorner line) => P * line.U + R * line.M - C;
}
