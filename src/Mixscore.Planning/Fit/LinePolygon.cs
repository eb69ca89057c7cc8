namespace Mixscore.Planning;

/// <summary>
/// The convex set of straight lines u + m·t that keep every demand clipped so far: u is the value at t = 0 in dB, m the
/// slope in dB a quarter. Corners run one way round, as the box that it begins as. Where edges are asked for, each corner
/// carries the half-plane of the edge that leaves it, so that the edges are at the same time the demands that still matter.
/// </summary>
/// <remarks>
/// This is the polygon of O'Rourke, An on-line algorithm for fitting straight lines between data ranges (CACM 24, 1981).
/// A clip is O(corners); in practice there are four to eight.
/// </remarks>
internal sealed class LinePolygon(bool withEdges)
{
    private double[] _u = new double[16];
    private double[] _m = new double[16];
    private double[] _spareU = new double[16];
    private double[] _spareM = new double[16];
    private Edge[] _edges = new Edge[16];
    private Edge[] _spareEdges = new Edge[16];
    private double[] _over = new double[16];

    /// <summary>How many corners; 0 where no line is left.</summary>
    public int Count { get; private set; }

    public bool IsEmpty => Count == 0;

    /// <summary>The edges, if they are kept.</summary>
    public ReadOnlySpan<Edge> Edges => _edges.AsSpan(0, withEdges ? Count : 0);

    /// <summary>Begins as a box of all lines with u and m in these ranges.</summary>
    public void Box(double low, double high, double steepest)
    {
        Count = 0;
        if (!(low <= high)) return;
        Set(0, low, -steepest, new Edge(0, -1, steepest));
        Set(1, high, -steepest, new Edge(1, 0, high));
        Set(2, high, steepest, new Edge(0, 1, steepest));
        Set(3, low, steepest, new Edge(-1, 0, -low));
        Count = 4;

        void Set(int corner, double u, double m, Edge edge) => (_u[corner], _m[corner], _edges[corner]) = (u, m, edge);
    }

    /// <summary>Keeps the lines with a value of at least this at t.</summary>
    public void ClipLow(double t, double low) => Clip(-1, -t, -low);

    /// <summary>Keeps the lines with a value of at most this at t.</summary>
    public void ClipHigh(double t, double high) => Clip(1, t, high);

    /// <summary>Keeps the lines that are no steeper, up or down.</summary>
    public void ClipSlope(double steepest)
    {
        Clip(0, 1, steepest);
        Clip(0, -1, steepest);
    }

    /// <summary>The range of values at t; empty where no line is left.</summary>
    public ValueRange RangeAt(double t)
    {
        var (least, most) = (double.PositiveInfinity, double.NegativeInfinity);
        var us = _u.AsSpan(0, Count);
        var ms = _m.AsSpan(0, Count);
        for (var i = 0; i < us.Length && i < ms.Length; i++)
        {
            var value = us[i] + ms[i] * t;
            (least, most) = (double.MinNative(least, value), double.MaxNative(most, value));
        }
        return new ValueRange(least, most);
    }

    /// <summary>The range of values at t over the lines whose u lies in a range.</summary>
    /// <returns>Whether there are any.</returns>
    public bool TryProject(double low, double high, double t, out double least, out double most)
    {
        (least, most) = (double.PositiveInfinity, double.NegativeInfinity);
        for (var i = 0; i < Count; i++)
        {
            var j = i + 1 < Count ? i + 1 : 0;
            if (_u[i] >= low && _u[i] <= high) Take(_u[i] + _m[i] * t, ref least, ref most);
            if (_u[i] < low != _u[j] < low) Take(low + SlopeAt(i, j, low) * t, ref least, ref most);
            if (_u[i] > high != _u[j] > high) Take(high + SlopeAt(i, j, high) * t, ref least, ref most);
        }
        return least <= most;
    }

    private static void Take(double value, ref double least, ref double most)
    {
        if (value < least) least = value;
        if (value > most) most = value;
    }

    private double SlopeAt(int a, int b, double u) => _m[a] + (_m[b] - _m[a]) * ((u - _u[a]) / (_u[b] - _u[a]));

    private void Clip(double p, double r, double c)
    {
        var most = double.NegativeInfinity;
        for (var i = 0; i < Count; i++)
        {
            _over[i] = p * _u[i] + r * _m[i] - c;
            most = double.MaxNative(most, _over[i]);
        }
        if (most > 0) Cut(new Edge(p, r, c));
    }

    private void Cut(Edge edge)
    {
        if (Count + 2 > _u.Length) Grow();
        var kept = 0;
        for (var i = 0; i < Count; i++)
        {
            var j = i + 1 < Count ? i + 1 : 0;
            var (here, next) = (_over[i], _over[j]);
            if (here <= 0)
            {
                (_spareU[kept], _spareM[kept]) = (_u[i], _m[i]);
                if (withEdges) _spareEdges[kept] = _edges[i];
                kept++;
            }
            if (here <= 0 == next <= 0) continue;
            var part = here / (here - next);
            (_spareU[kept], _spareM[kept]) = (_u[i] + (_u[j] - _u[i]) * part, _m[i] + (_m[j] - _m[i]) * part);
            if (withEdges) _spareEdges[kept] = here <= 0 ? edge : _edges[i];
            kept++;
        }
        Count = kept;
        (_u, _spareU, _m, _spareM, _edges, _spareEdges) = (_spareU, _u, _spareM, _m, _spareEdges, _edges);
    }

    private void Grow()
    {
        var size = 2 * _u.Length;
        Array.Resize(ref _u, size);
        Array.Resize(ref _m, size);
        Array.Resize(ref _edges, size);
        Array.Resize(ref _over, size);
        (_spareU, _spareM, _spareEdges) = (new double[size], new double[size], new Edge[size]);
    }

    /// <summary>The half-plane p·u + r·m ≤ c of an edge.</summary>
    internal readonly record struct Edge(double P, double R, double C);
}
