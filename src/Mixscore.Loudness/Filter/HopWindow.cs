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
        // Four chains in a fixed order: quicker than one, and no drift as a running sum would have.
        double a = 0, b = 0, c = 0, d = 0;
        for (var i = 0; i < last.Length; i += 4)
        {
            a += last[i];
            b += last[i + 1];
            c += last[i + 2];
            d += last[i + 3];
        }
        return (a + b + (c + d)) / grid.Frames(Count - hops, Count);
    }
}
