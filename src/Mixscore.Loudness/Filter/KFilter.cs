namespace Mixscore.Loudness;

/// <summary>Both K-weighting stages of one channel with their memory; turns samples into a running sum of squares.</summary>
internal sealed class KFilter(int sampleRate)
{
    // 1e-30 is 600 dB below full scale. From there no state reaches the denormals within one hop, where arithmetic is slow.
    private const double Nothing = 1e-30;

    private readonly Biquad _shelf = KWeighting.Shelf(sampleRate);
    private readonly Biquad _highPass = KWeighting.HighPass(sampleRate);
    private double _shelf1, _shelf2, _high1, _high2;

    /// <summary>
    /// Filters on and adds the squares of what comes out, sample by sample in order, so that cutting the input elsewhere gives
    /// the same bits.
    /// </summary>
    public double AddSquares(ReadOnlySpan<float> samples, double sum)
    {
        var (b0, b1, b2, a1, a2) = _shelf;
        double c1 = _highPass.A1, c2 = _highPass.A2;
        double s1 = _shelf1, s2 = _shelf2, t1 = _high1, t2 = _high2;
        foreach (var sample in samples)
        {
            double x = sample;
            var y = b0 * x + s1;
            s1 = (b1 * x + s2) - a1 * y;
            s2 = b2 * x - a2 * y;
            // The high-pass numerator is 1, -2, 1.
            var z = y + t1;
            t1 = (t2 - 2 * y) - c1 * z;
            t2 = y - c2 * z;
            sum += z * z;
        }
        (_shelf1, _shelf2, _high1, _high2) = (s1, s2, t1, t2);
        return sum;
    }

    /// <summary>Lets a state that has died away be zero. To be called at hop ends only, which no block size moves.</summary>
    public void Settle()
    {
        _shelf1 = Settled(_shelf1);
        _shelf2 = Settled(_shelf2);
        _high1 = Settled(_high1);
        _high2 = Settled(_high2);
    }

    private static double Settled(double state) => Math.Abs(state) < Nothing ? 0 : state;
}
