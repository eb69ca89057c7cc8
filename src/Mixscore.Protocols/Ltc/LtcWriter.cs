using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Ltc;

/// <summary>
/// Makes linear timecode as sound: biphase mark, an edge at the beginning of every bit and one in the middle of every one
/// (SMPTE 12M). Edges lie on the nearest sample of their exact time, so that nothing drifts.
/// </summary>
public sealed class LtcWriter
{
    private const int HalvesPerFrame = 2 * LtcFrame.Bits;

    private readonly Timecode _start;
    private readonly long _sampleRate;
    private UInt128 _bits;
    private long _sample;
    private long _half;
    private float _now;

    /// <summary>A writer whose first sample begins a frame.</summary>
    /// <param name="start">The first frame's label.</param>
    /// <param name="sampleRate">Samples a second, 32,000 to 384,000.</param>
    /// <param name="level">Height of the square, full scale 1; above 0, at most 1.</param>
    public LtcWriter(Timecode start, int sampleRate, float level = 0.25f)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 32_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, 384_000);
        if (!(level > 0 && level <= 1)) throw new ArgumentOutOfRangeException(nameof(level), level, "above 0, at most 1");
        (_start, _sampleRate, _now) = (start, sampleRate, -level);
    }

    /// <summary>Writes the next samples.</summary>
    public void Fill(Span<float> samples)
    {
        for (var i = 0; i < samples.Length; i++, _sample++)
        {
            while (SampleOf(_half) <= _sample)
            {
                if (IsEdge(_half)) _now = -_now;
                _half++;
            }
            samples[i] = _now;
        }
    }

    private bool IsEdge(long half)
    {
        var (frame, within) = Math.DivRem(half, HalvesPerFrame);
        if (within == 0) _bits = LtcFrame.Encode(_start.Plus(frame));
        return within % 2 == 0 || (_bits >> (int)(within / 2) & 1) == 1;
    }

    // Exact in integers: a drop-frame frame lasts 1001/30000 s.
    private long SampleOf(long half)
    {
        var (top, bottom) = _start.Rate == TimecodeRate.Frames30Drop ? (1001L, 30000L) : (1L, Timecode.LabelsPerSecond(_start.Rate));
        var denominator = bottom * HalvesPerFrame;
        return (long)((((Int128)half * _sampleRate * top) + (denominator / 2)) / denominator);
    }
}
