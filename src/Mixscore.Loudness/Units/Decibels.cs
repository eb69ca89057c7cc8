using System.Globalization;

namespace Mixscore.Loudness;

/// <summary>
/// A ratio in decibels: a gain, a distance between two levels, or a level over a stated reference. <c>default</c> is 0 dB.
/// </summary>
/// <remarks>1 LU is 1 dB. A power sum is never <c>+</c>; see <see cref="PowerSum"/>.</remarks>
public readonly record struct Decibels : IComparable<Decibels>
{
    private Decibels(double value) => Value = value;

    /// <summary>0 dB: no change.</summary>
    public static Decibels Zero => default;

    /// <summary>The number of decibels; always finite.</summary>
    public double Value { get; }

    /// <summary>So many decibels.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The number is not finite; silence is <c>null</c>, not −∞.</exception>
    public static Decibels Of(double value) => double.IsFinite(value)
        ? new Decibels(value)
        : throw new ArgumentOutOfRangeException(nameof(value), value, "decibels are finite; silence is null");

    /// <summary>20·log10 of an amplitude ratio; <c>null</c> for a ratio of 0.</summary>
    /// <param name="ratio">0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is negative, NaN or infinite.</exception>
    public static Decibels? FromGain(double ratio) => Checked(ratio) > 0 ? Of(20 * Math.Log10(ratio)) : null;

    /// <summary>10·log10 of a power ratio; <c>null</c> for a ratio of 0.</summary>
    /// <param name="ratio">0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is negative, NaN or infinite.</exception>
    public static Decibels? FromPowerRatio(double ratio) => Checked(ratio) > 0 ? Of(10 * Math.Log10(ratio)) : null;

    /// <summary>The level of uncorrelated signals together: 10·log10 of the sum of their powers; <c>null</c> for none.</summary>
    public static Decibels? PowerSum(IEnumerable<Decibels> levels) => FromPowerRatio(levels.Sum(level => level.ToPowerRatio()));

    /// <summary>The amplitude ratio, 10^(dB/20).</summary>
    public double ToGain() => Math.Pow(10, Value / 20);

    /// <summary>The power ratio, 10^(dB/10).</summary>
    public double ToPowerRatio() => Math.Pow(10, Value / 10);

    /// <summary>The magnitude.</summary>
    public Decibels Abs() => new(Math.Abs(Value));

    /// <summary>The higher of two.</summary>
    public static Decibels Max(Decibels a, Decibels b) => a.Value >= b.Value ? a : b;

    /// <summary>The lower of two.</summary>
    public static Decibels Min(Decibels a, Decibels b) => a.Value <= b.Value ? a : b;

    /// <inheritdoc/>
    public int CompareTo(Decibels other) => Value.CompareTo(other.Value);

    /// <summary>One gain after another.</summary>
    public static Decibels operator +(Decibels a, Decibels b) => Of(a.Value + b.Value);

    /// <summary>The difference of two.</summary>
    public static Decibels operator -(Decibels a, Decibels b) => Of(a.Value - b.Value);

    /// <summary>The opposite gain.</summary>
    public static Decibels operator -(Decibels a) => new(-a.Value);

    /// <summary>So many times the decibels, as when a move is part done.</summary>
    public static Decibels operator *(Decibels a, double times) => Of(a.Value * times);

    /// <summary>Whether the left one is lower.</summary>
    public static bool operator <(Decibels a, Decibels b) => a.Value < b.Value;

    /// <summary>Whether the left one is higher.</summary>
    public static bool operator >(Decibels a, Decibels b) => a.Value > b.Value;

    /// <summary>Whether the left one is not higher.</summary>
    public static bool operator <=(Decibels a, Decibels b) => a.Value <= b.Value;

    /// <summary>Whether the left one is not lower.</summary>
    public static bool operator >=(Decibels a, Decibels b) => a.Value >= b.Value;

    /// <summary>One decimal and the unit, such as <c>-6.0 dB</c>.</summary>
    public override string ToString() => OneDecimal(Value) + " dB";

    /// <summary>One decimal, as EBU Tech 3341, 2.8 allows, and no minus before zero.</summary>
    internal static string OneDecimal(double value)
    {
        var text = value.ToString("F1", CultureInfo.InvariantCulture);
        return text == "-0.0" ? "0.0" : text;
    }

    private static double Checked(double ratio) => ratio >= 0 && double.IsFinite(ratio)
        ? ratio
        : throw new ArgumentOutOfRangeException(nameof(ratio), ratio, "a ratio is finite and not negative");
}
