using System.Globalization;

namespace Mixscore.Score;

/// <summary>Clock time in seconds: a length, or a place counted from the start of the piece by the click.</summary>
public readonly record struct Seconds(double Value) : IComparable<Seconds>
{
    /// <summary>No time.</summary>
    public static Seconds Zero => default;

    /// <summary>So many milliseconds.</summary>
    public static Seconds FromMilliseconds(double milliseconds) => new(milliseconds / 1000);

    /// <inheritdoc/>
    public int CompareTo(Seconds other) => Value.CompareTo(other.Value);

    /// <summary>Sum.</summary>
    public static Seconds operator +(Seconds a, Seconds b) => new(a.Value + b.Value);

    /// <summary>Difference.</summary>
    public static Seconds operator -(Seconds a, Seconds b) => new(a.Value - b.Value);

    /// <summary>Whether the left one is earlier or shorter.</summary>
    public static bool operator <(Seconds a, Seconds b) => a.Value < b.Value;

    /// <summary>Whether the left one is later or longer.</summary>
    public static bool operator >(Seconds a, Seconds b) => a.Value > b.Value;

    /// <summary>Whether the left one is not later.</summary>
    public static bool operator <=(Seconds a, Seconds b) => a.Value <= b.Value;

    /// <summary>Whether the left one is not earlier.</summary>
    public static bool operator >=(Seconds a, Seconds b) => a.Value >= b.Value;

    /// <summary>Seconds with three decimals and the unit.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Value:0.000} s");
}
