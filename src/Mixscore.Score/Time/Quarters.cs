namespace Mixscore.Score;

/// <summary>
/// Musical time in quarter notes, exact: a length, or a place counted from the start of the piece as played.
/// <c>default</c> is zero.
/// </summary>
public readonly record struct Quarters(Fraction Value) : IComparable<Quarters>
{
    /// <summary>A whole number or a fraction of quarters.</summary>
    public Quarters(long numerator, long denominator = 1) : this(new Fraction(numerator, denominator))
    {
    }

    /// <summary>No time.</summary>
    public static Quarters Zero => default;

    /// <summary>The nearest <see cref="double"/> number of quarters.</summary>
    public double ToDouble() => Value.ToDouble();

    /// <inheritdoc/>
    public int CompareTo(Quarters other) => Value.CompareTo(other.Value);

    /// <summary>The later, or longer, of two.</summary>
    public static Quarters Max(Quarters a, Quarters b) => a >= b ? a : b;

    /// <summary>The earlier, or shorter, of two.</summary>
    public static Quarters Min(Quarters a, Quarters b) => a <= b ? a : b;

    /// <summary>Exact sum.</summary>
    public static Quarters operator +(Quarters a, Quarters b) => new(a.Value + b.Value);

    /// <summary>Exact difference.</summary>
    public static Quarters operator -(Quarters a, Quarters b) => new(a.Value - b.Value);

    /// <summary>A length so many times over.</summary>
    public static Quarters operator *(Quarters a, Fraction times) => new(a.Value * times);

    /// <summary>How often one length goes into another.</summary>
    public static Fraction operator /(Quarters a, Quarters b) => a.Value / b.Value;

    /// <summary>Whether the left one is earlier or shorter.</summary>
    public static bool operator <(Quarters a, Quarters b) => a.Value < b.Value;

    /// <summary>Whether the left one is later or longer.</summary>
    public static bool operator >(Quarters a, Quarters b) => a.Value > b.Value;

    /// <summary>Whether the left one is not later.</summary>
    public static bool operator <=(Quarters a, Quarters b) => a.Value <= b.Value;

    /// <summary>Whether the left one is not earlier.</summary>
    public static bool operator >=(Quarters a, Quarters b) => a.Value >= b.Value;

    /// <summary>The exact fraction as text, such as <c>7/2</c>.</summary>
    public override string ToString() => Value.ToString();
}
