namespace Mixscore.Planning;

/// <summary>A set of gains: closed ranges, ascending and apart. Immutable.</summary>
internal sealed class ValueSet
{
    private readonly ValueRange[] _ranges;

    private ValueSet(ValueRange[] ranges) => _ranges = ranges;

    public ValueSet(ValueRange range) => _ranges = [range];

    public static ValueSet Empty { get; } = new([]);

    public ReadOnlySpan<ValueRange> Ranges => _ranges;

    public bool IsEmpty => _ranges.Length == 0;

    /// <summary>The least and the greatest member.</summary>
    public ValueRange Hull => new(_ranges[0].Low, _ranges[^1].High);

    /// <summary>Whether a range lies in the set, or stands out of one of its ranges by no more than a slack.</summary>
    public bool Covers(ValueRange range, double slack)
    {
        foreach (var own in _ranges)
            if (own.Low - slack <= range.Low && range.High <= own.High + slack) return true;
        return false;
    }

    /// <summary>The set with a range added.</summary>
    public ValueSet With(ValueRange range)
    {
        var ranges = new List<ValueRange>(_ranges.Length + 1);
        foreach (var own in _ranges)
        {
            if (own.High < range.Low) ranges.Add(own);
            else if (own.Low <= range.High) range = new ValueRange(Math.Min(own.Low, range.Low), Math.Max(own.High, range.High));
            else
            {
                ranges.Add(range);
                range = own;
            }
        }
        ranges.Add(range);
        return new ValueSet([.. ranges]);
    }
}

/// <summary>All gains from one to another, in dB.</summary>
internal readonly record struct ValueRange(double Low, double High)
{
    public bool IsEmpty => !(Low <= High);

    public double Clamp(double value) => Math.Min(High, Math.Max(Low, value));
}
