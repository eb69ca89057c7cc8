using System.Globalization;

namespace Mixscore.Protocols.Midi;

/// <summary>A number that takes two MIDI data bytes: 0 to 16,383, high × 128 + low. The default value is 0.</summary>
public readonly record struct Midi14 : IComparable<Midi14>
{
    /// <summary>The largest value, 16,383.</summary>
    public const int Largest = 16383;

    private readonly ushort _value;

    /// <summary>A number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not from 0 to 16,383.</exception>
    public Midi14(int value)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(value, Largest);
        _value = (ushort)value;
    }

    /// <summary>The number made of its two bytes.</summary>
    public Midi14(Midi7 high, Midi7 low) => _value = (ushort)((high.Value << 7) | low.Value);

    /// <summary>The middle of pitch bend, 8192 (MIDI 1.0, pitch bend change).</summary>
    public static Midi14 Centre => new(8192);

    /// <summary>The number.</summary>
    public int Value => _value;

    /// <summary>The more significant byte.</summary>
    public Midi7 High => Midi7.Low(_value >> 7);

    /// <summary>The less significant byte.</summary>
    public Midi7 Low => Midi7.Low(_value);

    /// <inheritdoc/>
    public int CompareTo(Midi14 other) => _value.CompareTo(other._value);

    /// <summary>The number, in decimal.</summary>
    public override string ToString() => _value.ToString(CultureInfo.InvariantCulture);

    /// <summary>Smaller.</summary>
    public static bool operator <(Midi14 left, Midi14 right) => left._value < right._value;

    /// <summary>Larger.</summary>
    public static bool operator >(Midi14 left, Midi14 right) => left._value > right._value;

    /// <summary>Smaller or equal.</summary>
    public static bool operator <=(Midi14 left, Midi14 right) => left._value <= right._value;

    /// <summary>Larger or equal.</summary>
    public static bool operator >=(Midi14 left, Midi14 right) => left._value >= right._value;
}
