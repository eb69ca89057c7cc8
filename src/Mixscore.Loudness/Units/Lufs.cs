namespace Mixscore.Loudness;

/// <summary>
/// A loudness relative to full scale (ITU-R BS.1770-5; the standard's LKFS is the same). The difference of two is in
/// <see cref="Decibels"/> (1 LU is 1 dB); their sum has no meaning and does not compile.
/// </summary>
/// <param name="Value">Finite; silence is <c>null</c> where it may occur.</param>
public readonly record struct Lufs(double Value) : IComparable<Lufs>
{
    /// <summary>
    /// dB. ITU-R BS.1770-5, Annex 1, eq. 2: takes out what K-weighting adds at 997 Hz, so that a tone there reads its own level.
    /// </summary>
    internal const double KOffset = -0.691;

    /// <summary>The loudness; always finite.</summary>
    public double Value { get; } = double.IsFinite(Value)
        ? Value
        : throw new ArgumentOutOfRangeException(nameof(Value), Value, "a loudness is finite; silence is null");

    /// <summary>The loudness of a mean square; <c>null</c> for 0, digital silence. ITU-R BS.1770-5, Annex 1, eq. 2.</summary>
    /// <param name="meanSquare">Sum over the channels of weight times mean square after K-weighting; full scale is 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">It is negative, NaN or infinite.</exception>
    public static Lufs? FromMeanSquare(double meanSquare) =>
        Decibels.FromPowerRatio(meanSquare) is { } power ? new Lufs(KOffset + power.Value) : null;

    /// <summary>The K-weighted mean square that has this loudness.</summary>
    public double ToMeanSquare() => Math.Pow(10, (Value - KOffset) / 10);

    /// <summary>
    /// The loudness of uncorrelated sounds heard together, their mean squares added; <c>null</c> for none. Two equal ones give
    /// 3.01 LU more than one.
    /// </summary>
    public static Lufs? PowerSum(IEnumerable<Lufs> sounds) => FromMeanSquare(sounds.Sum(sound => sound.ToMeanSquare()));

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
    public override string ToString() => Decibels.OneDecimal(Value) + " LUFS";
}
