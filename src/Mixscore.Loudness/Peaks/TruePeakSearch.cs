namespace Mixscore.Loudness;

/// <summary>
/// The largest magnitude of one channel, samples and interpolation together, found without interpolating where a bound proves
/// that the peak cannot rise. The answer is that of interpolating everywhere, to the bit; where a higher one is known, at most that.
/// </summary>
internal sealed class TruePeakSearch(int ratio, Interpolates when)
{
    // Where the second bound failed so often in a row it is tried less and less, down to once in 64 blocks.
    private const int Patience = 8, LongestPause = 6;

    private readonly TruePeakBound? _bound = TruePeakBound.Of(ratio);
    private int _inVain, _left;
    private float _before;   // no sample of the history is larger

    /// <summary>The peak so far.</summary>
    public float Peak { get; private set; }

    /// <summary>A peak that is known from elsewhere: whether the signal rises up to it is of no interest.</summary>
    public float Known { private get; set; }

    /// <summary>Blocks that were interpolated.</summary>
    internal long Interpolated { get; private set; }

    /// <summary>Hears a block.</summary>
    /// <param name="lane">What took it; clean.</param>
    public void Push(Lane lane)
    {
        Peak = Math.Max(Peak, lane.Peak);
        if (_bound is null) return;
        var largest = Math.Max(lane.Peak, _before);
        _before = lane.Fresh.Length >= TruePeakFilter.History ? lane.Peak : largest;
        if (when == Interpolates.WherePeaksCouldRise && CannotRise(lane, largest)) return;
        Interpolated++;
        Peak = Math.Max(Peak, TruePeakFilter.Peak(lane.WithHistory, ratio));
    }

    private bool CannotRise(Lane lane, float largest)
    {
        var peak = Math.Max(Peak, Known);
        if (_bound!.ByWhole(largest) <= peak) return true;
        if (_left > 0)
        {
            _left--;
            return false;
        }
        var proven = _bound.BySecondDifference(largest, SampleSize.LargestSecondDifference(lane.WithHistory)) <= peak;
        _inVain = proven ? 0 : Math.Min(_inVain + 1, Patience + LongestPause);
        _left = _inVain <= Patience ? 0 : (1 << (_inVain - Patience)) - 1;
        return proven;
    }
}
