using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>
/// How gain becomes a number on the wire and back: straight between points. Below the first point the fader is off,
/// above the last one it stands at the last. Immutable; nothing allocates after construction.
/// </summary>
public sealed class FaderLaw
{
    private readonly double[] _gains;    // ascending
    private readonly double[] _values;   // strictly rising or strictly falling
    private readonly int _rise;          // +1 where a higher value is louder, -1 where it is softer

    /// <summary>A law through points.</summary>
    /// <param name="points">At least two; gains strictly rising or falling, values too.</param>
    /// <param name="off">The value of a fader that is shut: not louder than the softest point.</param>
    /// <param name="number">What the wire takes; the points are rounded to it.</param>
    /// <exception cref="ArgumentException">The points are not so.</exception>
    public FaderLaw(IReadOnlyList<LawPoint> points, double off, WireNumber number)
    {
        if (LawProblem.In(points, off, number) is { } problem) throw new ArgumentException(problem.Found, nameof(points));
        var ordered = points[0].Gain < points[^1].Gain ? points : [.. points.Reverse()];
        _gains = [.. ordered.Select(point => point.Gain.Value)];
        _values = [.. ordered.Select(point => Round(point.Value, number))];
        _rise = Math.Sign(_values[1] - _values[0]);
        (Number, Off, Points) = (number, Round(off, number), ordered);
    }

    /// <summary>The points, softest first.</summary>
    public IReadOnlyList<LawPoint> Points { get; }

    /// <summary>The value of a fader that is shut.</summary>
    public double Off { get; }

    /// <summary>What kind of number the wire takes.</summary>
    public WireNumber Number { get; }

    /// <summary>The softest gain that is not off.</summary>
    public Decibels Lowest => Decibels.Of(_gains[0]);

    /// <summary>The loudest gain.</summary>
    public Decibels Highest => Decibels.Of(_gains[^1]);

    /// <summary>The value of a gain before it is rounded for the wire.</summary>
    /// <param name="gain"><c>null</c> is off, and so is a gain below <see cref="Lowest"/>.</param>
    public double ToValue(Decibels? gain)
    {
        if (gain is not { } wanted || wanted.Value < _gains[0]) return Off;
        if (wanted.Value >= _gains[^1]) return _values[^1];
        var next = Array.BinarySearch(_gains, wanted.Value);
        if (next >= 0) return _values[next];
        next = ~next;
        return Between(wanted.Value, _gains[next - 1], _gains[next], _values[next - 1], _values[next]);
    }

    /// <summary>The value of a gain as it is sent: <see cref="ToValue"/>, rounded to what the wire takes.</summary>
    public double Sent(Decibels? gain) => Quantise(ToValue(gain));

    /// <summary>The nearest number that the wire takes.</summary>
    public double Quantise(double value) => Round(value, Number);

    /// <summary>The gain that a value stands for: the inverse of <see cref="ToValue"/>.</summary>
    /// <returns><c>null</c> for <see cref="Off"/> and for every value on the soft side of the first point.</returns>
    public Decibels? ToGain(double value)
    {
        if (value == Off || (value - _values[0]) * _rise < 0) return null;
        if ((value - _values[^1]) * _rise >= 0) return Highest;
        int low = 0, high = _values.Length - 1;
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            if ((value - _values[middle]) * _rise >= 0) low = middle;
            else high = middle;
        }
        return Decibels.Of(Between(value, _values[low], _values[high], _gains[low], _gains[high]));
    }

    /// <summary>How far apart two neighbouring numbers of the wire are at a gain, in dB; 0 for 64-bit numbers.</summary>
    /// <param name="gain">Where two pieces of the law meet, the coarser one counts.</param>
    public Decibels StepAt(Decibels gain) => Decibels.Of(CoarsestBetween(gain.Value, gain.Value));

    /// <summary>The widest step in dB between neighbouring numbers of the wire over a stretch of gains.</summary>
    internal double CoarsestBetween(double from, double to)
    {
        var coarsest = 0.0;
        var (low, high) = (Math.Clamp(Math.Min(from, to), _gains[0], _gains[^1]), Math.Clamp(Math.Max(from, to), _gains[0], _gains[^1]));
        for (var i = 1; i < _gains.Length; i++)
        {
            if (_gains[i] < low || _gains[i - 1] > high) continue;
            var slope = Math.Abs((_gains[i] - _gains[i - 1]) / (_values[i] - _values[i - 1]));
            coarsest = Math.Max(coarsest, slope * Spacing(Math.Max(Math.Abs(_values[i]), Math.Abs(_values[i - 1]))));
        }
        return coarsest;
    }

    internal static double Round(double value, WireNumber number) => number switch
    {
        WireNumber.Real32 => (float)value,
        WireNumber.Whole => Math.Round(value),
        _ => value,
    };

    private double Spacing(double value) => Number switch
    {
        WireNumber.Whole => 1,
        WireNumber.Real32 => MathF.BitIncrement((float)value) - (float)value,
        _ => 0,
    };

    private static double Between(double x, double x0, double x1, double y0, double y1) => y0 + (y1 - y0) * ((x - x0) / (x1 - x0));
}
