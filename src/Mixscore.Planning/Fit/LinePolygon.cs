namespace Mixscore.Planning;

/// <summary>
/// The convex set of straight lines u + m·t that keep every demand clipped so far: u is the value at t = 0 in dB, m the
/// slope in dB a quarter. Corners run counter-clockwise or clockwise, as the box that it begins as; each carries the
/// half-plane p·u + r·m ≤ c of the edge that leaves it, so that the edges are at the same time the demands that still
/// matter.
/// </summary>
/// <remarks>
/// This is the polygon of O'Rourke, An on-line algorithm for fitting straight lines between data ranges (CACM 24, 1981).
/// A clip is O(corners); in practice there are four to eight.
/// </remarks>
internal sealed class LinePolygon
{
    private Corner[] _corners = new Corner[16];
    private Corner[] _spare = new Corner[16];
    private double[] _over = new double[16];

    /// <summary>How many corners; 0 where no line is left.</summary>
    public int Count { get; private set; }

    public bool IsEmpty => Count == 0;

    public ReadOnlySpan<Corner> Corners => _corners.AsSpan(0, Count);

    /// <summary>Begins as a box of all lines with u and m in these ranges.</summary>
    public void Box(double low, double high, double steepest)
    {
        Count = 0;
        if (!(low <= high)) return;
        _corners[0] = new Corner(low, -steepest, 0, -1, steepest);
        _corners[1] = new Corner(high, -steepest, 1, 0, high);
        _corners[2] = new Corner(high, steepest, 0, 1, steepest);
        _corners[3] = new Corner(low, steepest, -1, 0, -low);
        Count = 4;
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
        foreach (ref readonly var corner in Corners) Take(corner.U + corner.M * t, ref least, ref most);
        return new ValueRange(least, most);
    }

    /// <summary>The range of values at t over the lines whose u lies in a range.</summary>
    /// <returns>Whether there are any.</returns>
    public bool TryProject(double low, double high, double t, out double least, out double most)
    {
        (least, most) = (double.PositiveInfinity, double.NegativeInfinity);
        for (var i = 0; i < Count; i++)
        {
            ref readonly var a = ref _corners[i];
            ref readonly var b = ref _corners[i + 1 < Count ? i + 1 : 0];
            if (a.U >= low && a.U <= high) Take(a.U + a.M * t, ref least, ref most);
            if (a.U < low != b.U < low) Take(low + SlopeAt(a, b, low) * t, ref least, ref most);
            if (a.U > high != b.U > high) Take(high + SlopeAt(a, b, high) * t, ref least, ref most);
        }
        return least <= most;
    }

    private static void Take(double value, ref double least, ref double most)
    {
        if (value < least) least = value;
        if (value > most) most = value;
    }

    private static double SlopeAt(in Corner a, in Corner b, double u) => a.M + (b.M - a.M) * ((u - a.U) / (b.U - a.U));

    private void Clip(double p, double r, double c)
    {
        var cuts = false;
        for (var i = 0; i < Count; i++)
        {
            _over[i] = p * _corners[i].U + r * _corners[i].M - c;
            cuts |= _over[i] > 0;
        }
        if (cuts) Cut(p, r, c);
    }

    private void Cut(double p, double r, double c)
    {
        if (Count + 2 > _spare.Length)
        {
            Array.Resize(ref _corners, 2 * _corners.Length);
            Array.Resize(ref _over, _corners.Length);
            _spare = new Corner[_corners.Length];
        }
        var kept = 0;
        for (var i = 0; i < Count; i++)
        {
            var j = i + 1 < Count ? i + 1 : 0;
            var (here, next) = (_over[i], _over[j]);
            if (here <= 0) _spare[kept++] = _corners[i];
            if (here <= 0 == next <= 0) continue;
            ref readonly var a = ref _corners[i];
            ref readonly var b = ref _corners[j];
            var part = here / (here - next);
            var (u, m) = (a.U + (b.U - a.U) * part, a.M + (b.M - a.M) * part);
            _spare[kept++] = here <= 0 ? new Corner(u, m, p, r, c) : a with { U = u, M = m };
        }
        Count = kept;
        (_corners, _spare) = (_spare, _corners);
    }

    /// <summary>A corner, and the half-plane of the edge that leaves it.</summary>
    internal readonly record struct Corner(double U, double M, double P, double R, double C);
}
