using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Ltc;

/// <summary>
/// Hears linear timecode in sound: any level above −46 dBFS, either polarity, forwards and backwards, at half to twice its
/// speed. Blocks may have any size. Takes no memory after it is made.
/// </summary>
public sealed class LtcReader
{
    private const float Quietest = 0.005f;

    // Bits a second at 24 and 30 frames are 1920 and 2400; a first guess between them serves both.
    private const double MiddleBitRate = 2150;
    private const double SlowestBitRate = 900;   // 24 frames at half speed: 960
    private const double FastestBitRate = 5200;   // 30 frames at twice the speed: 4800

    private readonly int _sampleRate;
    private readonly TimecodeRate? _rate;
    private readonly double[] _edges = new double[LtcFrame.Bits + 1];
    private readonly float _decay;
    private UInt128 _forwards;
    private UInt128 _backwards;
    private long _bitCount;
    private long _sample;
    private float _previous;
    private float _peak;
    private bool _high;
    private double _zero;
    private double _lastEdge = double.NegativeInfinity;
    private bool _halfBit;
    private double _halfStart;
    private double _period;

    /// <summary>A reader at the beginning of a stream.</summary>
    /// <param name="sampleRate">Samples a second, 32,000 to 384,000.</param>
    /// <param name="rate">How frames are counted; <c>null</c> to tell it from the frames' length and the drop-frame flag,
    /// which needs a tape within 2 % of its speed.</param>
    public LtcReader(int sampleRate, TimecodeRate? rate = null)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 32_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, 384_000);
        (_sampleRate, _rate, _period) = (sampleRate, rate, sampleRate / MiddleBitRate);
        // The level is forgotten by half in 20 ms, some forty bits.
        _decay = (float)Math.Pow(0.5, 1 / (0.02 * sampleRate));
    }

    /// <summary>Edges that fit no bit, and frames whose figures are no label, so far.</summary>
    public long Faults { get; private set; }

    /// <summary>Takes samples off the front of the input until a frame is whole. Call again until it returns false.</summary>
    /// <param name="input">What was heard; on return, what is left of it. A value that is no number is taken as 0.</param>
    /// <param name="reading">The frame.</param>
    /// <returns>True when there is a frame; false when more samples are needed.</returns>
    public bool Read(ref ReadOnlySpan<float> input, out LtcReading reading)
    {
        for (var i = 0; i < input.Length; i++)
        {
            if (!Take(float.IsFinite(input[i]) ? input[i] : 0, out reading)) continue;
            input = input[(i + 1)..];
            return true;
        }
        input = default;
        reading = default;
        return false;
    }

    private bool Take(float value, out LtcReading reading)
    {
        // The place of the crossing is the straight line's; it counts once the sound has passed a fifth of its height.
        if (value > 0 != _previous > 0) _zero = _sample - (value / (value - _previous));
        _previous = value;
        _peak = Math.Max(Math.Abs(value), _peak * _decay);
        _sample++;
        reading = default;
        if (_peak < Quietest || Math.Abs(value) < _peak / 5 || value > 0 == _high) return false;
        _high = value > 0;
        return Edge(_zero, out reading);
    }

    private bool Edge(double at, out LtcReading reading)
    {
        var length = at - _lastEdge;
        var start = _lastEdge;
        _lastEdge = at;
        reading = default;
        if (length > 1.5 * _period)
        {
            Guess(length);
            return Lose();
        }
        var isHalf = length < 0.75 * _period;
        if (isHalf && _halfBit && !AreAlike(start - _halfStart, length))
        {
            // A whole bit was taken for half a one: the tape is faster than was thought.
            Guess(Math.Max(start - _halfStart, length));
            return Lose();
        }
        Follow(isHalf ? 2 * length : length);
        if (isHalf && !_halfBit)
        {
            (_halfBit, _halfStart) = (true, start);
            return false;
        }
        if (!isHalf && _halfBit)
        {
            // Halves were paired wrongly, or an edge was lost: this edge ends a bit, and the frame is spoilt.
            Lose();
            return Bit(0, start, at, out reading);
        }
        var from = _halfBit ? _halfStart : start;
        _halfBit = false;
        return Bit(isHalf ? 1u : 0u, from, at, out reading);
    }

    // The halves of a bit are alike but for the samples' grain; a whole bit is twice as long as a half.
    private static bool AreAlike(double a, double b) => Math.Max(a, b) < 1.6 * Math.Min(a, b);

    private void Guess(double period) =>
        _period = period > _sampleRate / SlowestBitRate ? _sampleRate / MiddleBitRate : Math.Max(period, _sampleRate / FastestBitRate);

    private void Follow(double period) => _period = Math.Clamp(
        _period + (0.1 * (period - _period)), _sampleRate / FastestBitRate, _sampleRate / SlowestBitRate);

    private bool Lose()
    {
        if (_bitCount > 0) Faults++;
        (_bitCount, _halfBit, _forwards, _backwards) = (0, false, 0, 0);
        return false;
    }

    private bool Bit(uint bit, double from, double to, out LtcReading reading)
    {
        reading = default;
        _forwards = (_forwards >> 1) | ((UInt128)bit << (LtcFrame.Bits - 1));
        _backwards = ((_backwards << 1) | bit) & ((UInt128.One << LtcFrame.Bits) - 1);
        if (_bitCount == 0) _edges[0] = from;
        _bitCount++;
        _edges[_bitCount % _edges.Length] = to;
        if (_bitCount < LtcFrame.Bits) return false;
        var isBackwards = LtcFrame.HasSync(_backwards);
        if (!isBackwards && !LtcFrame.HasSync(_forwards)) return false;
        var bits = isBackwards ? _backwards : _forwards;
        // The ring holds one edge more than a frame has bits, so the next place is the oldest.
        var begin = _edges[(_bitCount + 1) % _edges.Length];
        if (!LtcFrame.TryDecode(bits, _rate ?? RateOf(bits, to - begin), out var label))
        {
            Faults++;
            return false;
        }
        reading = new LtcReading(label, begin, to, isBackwards);
        return true;
    }

    private TimecodeRate RateOf(UInt128 bits, double samples)
    {
        if (LtcFrame.IsDrop(bits)) return TimecodeRate.Frames30Drop;
        var framesPerSecond = _sampleRate / samples;
        return framesPerSecond < 24.5 ? TimecodeRate.Frames24
            : framesPerSecond < 27.5 ? TimecodeRate.Frames25
            : TimecodeRate.Frames30;
    }
}
