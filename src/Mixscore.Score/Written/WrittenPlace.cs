namespace Mixscore.Score;

/// <summary>A place in the score as written: a bar of the file and how far into it.</summary>
/// <param name="Bar">The place of the bar in the file, from 1.</param>
/// <param name="Offset">From the bar's start.</param>
public readonly record struct WrittenPlace(int Bar, Quarters Offset) : IComparable<WrittenPlace>
{
    /// <inheritdoc/>
    public int CompareTo(WrittenPlace other) => Bar != other.Bar ? Bar.CompareTo(other.Bar) : Offset.CompareTo(other.Offset);

    /// <summary>Whether the left one is earlier.</summary>
    public static bool operator <(WrittenPlace a, WrittenPlace b) => a.CompareTo(b) < 0;

    /// <summary>Whether the left one is later.</summary>
    public static bool operator >(WrittenPlace a, WrittenPlace b) => a.CompareTo(b) > 0;

    /// <summary>Whether the left one is not later.</summary>
    public static bool operator <=(WrittenPlace a, WrittenPlace b) => a.CompareTo(b) <= 0;

    /// <summary>Whether the left one is not earlier.</summary>
    public static bool operator >=(WrittenPlace a, WrittenPlace b) => a.CompareTo(b) >= 0;
}
