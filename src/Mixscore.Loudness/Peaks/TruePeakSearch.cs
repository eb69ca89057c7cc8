namespace Mixscore.Loudness;

/// <summary>
/// The largest magnitude of one channel, samples and interpolation together, found without interpolating where a bound proves
/// that the peak cannot rise. The answer is that of interpolating everywhere, to the bit.
/// </summary>
internal sealed class TruePeakSearch(int ratio, Interpolates when)
{
    // Where bounds keep failing they are tried once in so many blocks only.
    private const int LongestPause = 64;

    private readonly TruePeakBound? _bound = TruePeakBound.Of(ratio);
    private int _pause, _left;
    private float _before;   // no sample of the history is larger

    /// <summary>The peak so far.</summary>
    public float Peak { get; private set; }

    /// <summary>Blocks that were interpolated.</summary>
    internal long Interpolated { get; private set; }

    /// <summary>Hears a block.</summary>
    /// <param name="withHistory"><see cref="TruePeakFilter.History"/> older samples, then the block.</param>
    /// <param name="samplePeak">Largest magnitude in the block.</param>
    public void Push(ReadOnlySpan<float> withHistory, float samplePeak)
    {
        Peak = Math.Max(Peak, samplePeak);
        var largest = Math.Max(samplePeak, _before);
        _before = withHistory.Length >= 2 * TruePeakFilter.History ? samplePeak : largest;
        if (_bound is null || (when == Interpolates.WherePeaksCouldRise && CannotRise(withHistory, largest))) return;
        Interpolated++;
        Peak = Math.Max(Peak, TruePeakFilter.Peak(withHistory, ratio));
    }

    private bool CannotRise(ReadOnlySpan<float> samples, float largest)
    {
        if (_bound!.ByWhole(largest) <= Peak) return true;
        if (_left > 0)
        {
            _left--;
            return false;
        }
        var proven = _bound.BySecondDifference(largest, SampleSize.LargestSecondDifference(samples)) <= Peak;
        _pause = proven ? _pause / 2 : Math.Min(LongestPause, 2 * _pause + 1);
        _left = proven ? 0 : _pause;
        return proven;
    }
}
