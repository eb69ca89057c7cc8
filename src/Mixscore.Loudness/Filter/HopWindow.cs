using System.Runtime.Intrinsics;

namespace Mixscore.Loudness;

/// <summary>The sums of squares of the last 3 s of hops.</summary>
internal sealed class HopWindow(HopGrid grid)
{
    // Every sum stands twice, so that the last ones always lie in a row.
    private readonly double[] _sums = new double[2 * HopGrid.ShortTerm];

    /// <summary>Hops added so far.</summary>
    public long Count { get; private set; }

    public void Add(double sum)
    {
        var place = (int)(Count % HopGrid.ShortTerm);
        _sums[place] = _sums[place + HopGrid.ShortTerm] = sum;
        Count++;
    }

    /// <summary>Mean square over the last so many hops; there must have been as many.</summary>
    /// <param name="hops">A multiple of 4, at most 3 s.</param>
    public double MeanSquare(int hops)
    {
        var end = (int)((Count - 1) % HopGrid.ShortTerm) + HopGrid.ShortTerm + 1;
        var last = _sums.AsSpan(end - hops, hops);
        // Sixteen chains in a fixed order: no drift as a running sum would have, and no waiting for the addition before.
        Vector256<double> a = default, b = default, c = default, d = default;
        var i = 0;
        for (; i <= last.Length - 16; i += 16)
        {
            a += Vector256.Create(last[i..]);
            b += Vector256.Create(last[(i + 4)..]);
            c += Vector256.Create(last[(i + 8)..]);
            d += Vector256.Create(last[(i + 12)..]);
        }
        for (; i < last.Length; i += 4) a += Vector256.Create(last[i..]);
        return Vector256.Sum(a + b + (c + d)) / grid.Frames(Count - hops, Count);
    }
}
