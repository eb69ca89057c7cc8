using System.Globalization;

namespace Mixscore.Protocols.Midi;

/// <summary>A number that fits a MIDI data byte: 0 to 127. The default value is 0.</summary>
public readonly record struct Midi7 : IComparable<Midi7>
{
    /// <summary>The largest value, 127.</summary>
    public const int Largest = 127;

    private readonly byte _value;

    /// <summary>A number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not from 0 to 127.</exception>
    public Midi7(int value)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(value, Largest);
        _value = (byte)value;
    }

    /// <summary>The number.</summary>
    public int Value => _value;

    internal byte Octet => _value;

    internal static Midi7 Low(int bits) => new(bits & Largest);

    /// <inheritdoc/>
    public int CompareTo(Midi7 other) => _value.CompareTo(other._value);

    /// <summary>The number, in decimal.</summary>
    public override string ToString() => _value.ToString(CultureInfo.InvariantCulture);

    /// <summary>Smaller.</summary>
    public static bool operator <(Midi7 left, Midi7 right) => left._value < right._value;

    /// <summary>Larger.</summary>
    public static bool operator >(Midi7 left, Midi7 right) => left._value > right._value;

    /// <summary>Smaller or equal.</summary>
    public static bool operator <=(Midi7 left, Midi7 right) => left._value <= right._value;

    /// <summary>Larger or equal.</summary>
    public static bool operator >=(Midi7 left, Midi7 right) => left._value >= right._value;
}
