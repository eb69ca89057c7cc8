using System.Globalization;

namespace Mixscore.Score;

/// <summary>An exact fraction in lowest terms; the sign is on the numerator. <c>default</c> is zero.</summary>
/// <remarks>Arithmetic is exact; a result that does not fit 64-bit terms throws <see cref="OverflowException"/>.</remarks>
public readonly record struct Fraction : IComparable<Fraction>
{
    private readonly long _denominatorLessOne;

    /// <summary>A fraction from any two integers, reduced.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The denominator is zero.</exception>
    public Fraction(long numerator, long denominator = 1) : this((Int128)numerator, denominator)
    {
    }

    private Fraction(Int128 numerator, Int128 denominator)
    {
        if (denominator == 0) throw new ArgumentOutOfRangeException(nameof(denominator), "a fraction needs a denominator other than 0");
        if (denominator < 0) (numerator, denominator) = (-numerator, -denominator);
        var divisor = GreatestCommonDivisor(Int128.Abs(numerator), denominator);
        Numerator = (long)(numerator / divisor);
        _denominatorLessOne = (long)(denominator / divisor) - 1;
    }

    /// <summary>Zero.</summary>
    public static Fraction Zero => default;

    /// <summary>The upper term, with the sign.</summary>
    public long Numerator { get; }

    /// <summary>The lower term, 1 or more.</summary>
    public long Denominator => _denominatorLessOne + 1;

    /// <summary>The nearest <see cref="double"/>.</summary>
    public double ToDouble() => (double)Numerator / Denominator;

    /// <summary>The greatest integer not above this fraction.</summary>
    public long Floor() => Numerator >= 0 ? Numerator / Denominator : -((-Numerator + Denominator - 1) / Denominator);

    /// <inheritdoc/>
    public int CompareTo(Fraction other) =>
        ((Int128)Numerator * other.Denominator).CompareTo((Int128)other.Numerator * Denominator);

    /// <summary>The exact sum.</summary>
    public static Fraction operator +(Fraction a, Fraction b) =>
        new((Int128)a.Numerator * b.Denominator + (Int128)b.Numerator * a.Denominator, (Int128)a.Denominator * b.Denominator);

    /// <summary>The exact difference.</summary>
    public static Fraction operator -(Fraction a, Fraction b) => a + -b;

    /// <summary>The opposite.</summary>
    public static Fraction operator -(Fraction a) => new(-a.Numerator, a.Denominator);

    /// <summary>The exact product.</summary>
    public static Fraction operator *(Fraction a, Fraction b) =>
        new((Int128)a.Numerator * b.Numerator, (Int128)a.Denominator * b.Denominator);

    /// <summary>The exact quotient.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The divisor is zero.</exception>
    public static Fraction operator /(Fraction a, Fraction b) =>
        new((Int128)a.Numerator * b.Denominator, (Int128)a.Denominator * b.Numerator);

    /// <summary>Whether the left one is less.</summary>
    public static bool operator <(Fraction a, Fraction b) => a.CompareTo(b) < 0;

    /// <summary>Whether the left one is greater.</summary>
    public static bool operator >(Fraction a, Fraction b) => a.CompareTo(b) > 0;

    /// <summary>Whether the left one is at most the right one.</summary>
    public static bool operator <=(Fraction a, Fraction b) => a.CompareTo(b) <= 0;

    /// <summary>Whether the left one is at least the right one.</summary>
    public static bool operator >=(Fraction a, Fraction b) => a.CompareTo(b) >= 0;

    /// <summary>Reads <c>7/2</c> or <c>3</c>, with an optional minus.</summary>
    /// <returns>Whether the text is a fraction that fits.</returns>
    public static bool TryParse(ReadOnlySpan<char> text, out Fraction value)
    {
        value = default;
        var slash = text.IndexOf('/');
        var upper = slash < 0 ? text : text[..slash];
        long denominator = 1;
        if (!long.TryParse(upper, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var numerator)) return false;
        if (slash >= 0 && (!long.TryParse(text[(slash + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out denominator) || denominator == 0)) return false;
        value = new Fraction(numerator, denominator);
        return true;
    }

    /// <summary><c>7/2</c>, or <c>3</c> where the denominator is 1.</summary>
    public override string ToString() => Denominator == 1
        ? Numerator.ToString(CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"{Numerator}/{Denominator}");

    private static Int128 GreatestCommonDivisor(Int128 a, Int128 b)
    {
        while (a > long.MaxValue || b > long.MaxValue)
        {
            if (b == 0) return a;
            (a, b) = (b, a % b);
        }
        var (small, large) = ((ulong)a, (ulong)b);
        while (large != 0) (small, large) = (large, small % large);
        return (Int128)small;
    }
}
