using System.Globalization;

namespace Mixscore.Loudness;

/// <summary>
/// A loudness relative to full scale (ITU-R BS.1770-5; the standard's LKFS is the same). The difference of two is in
/// <see cref="Decibels"/> (1 LU is 1 dB); their sum has no meaning and does not compile.
/// </summary>
/// <param name="Value">Finite; silence is <c>null</c> where it may occur.</param>
public readonly record struct Lufs(double Value) : IComparable<Lufs>
{
    /// <inheritdoc/>
    public int CompareTo(Lufs other) => Value.CompareTo(other.Value);

    /// <summary>How far the left one stands over the right one.</summary>
    public static Decibels operator -(Lufs a, Lufs b) => Decibels.Of(a.Value - b.Value);

    /// <summary>A loudness raised.</summary>
    public static Lufs operator +(Lufs level, Decibels change) => new(level.Value + change.Value);

    /// <summary>A loudness lowered.</summary>
    public static Lufs operator -(Lufs level, Decibels change) => new(level.Value - change.Value);

    /// <summary>Whether the left one is softer.</summary>
    public static bool operator <(Lufs a, Lufs b) => a.Value < b.Value;

    /// <summary>Whether the left one is louder.</summary>
    public static bool operator >(Lufs a, Lufs b) => a.Value > b.Value;

    /// <summary>Whether the left one is not louder.</summary>
    public static bool operator <=(Lufs a, Lufs b) => a.Value <= b.Value;

    /// <summary>Whether the left one is not softer.</summary>
    public static bool operator >=(Lufs a, Lufs b) => a.Value >= b.Value;

    /// <summary>One decimal and the unit, such as <c>-23.0 LUFS</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Value:0.0} LUFS");
}
