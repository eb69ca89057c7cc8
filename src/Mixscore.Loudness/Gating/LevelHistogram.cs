namespace Mixscore.Loudness;

/// <summary>
/// Mean squares of blocks by level, in bins of 0.01 LU from -70 LUFS up, each with how many there are and their exact sum: 160 kB
/// whatever the length of the run.
/// </summary>
/// <remarks>
/// A gate whose threshold falls within a bin takes or leaves that bin as a whole, by its mean. What comes out is therefore what
/// exact gating gives with a threshold at most 0.01 LU away from the right one.
/// </remarks>
internal sealed class LevelHistogram
{
    /// <summary>Width of a bin, LU.</summary>
    public const double Width = 0.01;

    // Up to +30 LUFS; what is louder still shares the last bin.
    private const int Bins = 10_000;

    private readonly double[] _sums = new double[Bins];
    private readonly long[] _counts = new long[Bins];

    public long Count { get; private set; }

    /// <param name="meanSquare">At least that of -70 LUFS.</param>
    public void Add(double meanSquare)
    {
        var bin = (int)Math.Clamp(10 * Math.Log10(meanSquare / Gates.Absolute) / Width, 0, Bins - 1);
        _sums[bin] += meanSquare;
        _counts[bin]++;
        Count++;
    }

    /// <summary>Sum and number of the blocks in bins whose mean lies above a threshold, or on it if so asked.</summary>
    public (double Sum, long Count) Above(double threshold, bool orOn)
    {
        var (sum, count) = (0.0, 0L);
        for (var bin = 0; bin < Bins; bin++)
        {
            if (!Passes(bin, threshold, orOn)) continue;
            sum += _sums[bin];
            count += _counts[bin];
        }
        return (sum, count);
    }

    /// <summary>The mean square at a place among the blocks that pass, softest first: the mean of its bin.</summary>
    public double At(long index, double threshold, bool orOn)
    {
        for (var bin = 0; ; bin++)
        {
            if (!Passes(bin, threshold, orOn)) continue;
            if (index < _counts[bin]) return _sums[bin] / _counts[bin];
            index -= _counts[bin];
        }
    }

    private bool Passes(int bin, double threshold, bool orOn) =>
        _counts[bin] > 0 && (_sums[bin] / _counts[bin] > threshold || (orOn && _sums[bin] / _counts[bin] >= threshold));
}
