namespace Mixscore.Planning;

/// <summary>A set of gains: closed ranges, ascending and apart.</summary>
internal sealed class ValueSet
{
    private ValueRange[] _ranges;

    private ValueSet(ValueRange[] ranges) => _ranges = ranges;

    public static ValueSet Empty { get; } = new([]);

    public ReadOnlySpan<ValueRange> Ranges => _ranges;

    public bool IsEmpty => _ranges.Length == 0;

    /// <summary>The least and the greatest member.</summary>
    public ValueRange Hull => new(_ranges[0].Low, _ranges[^1].High);

    /// <summary>Whether a range lies in the set, or stands out of one of its ranges by no more than a slack.</summary>
    public bool Covers(in ValueRange range, double slack)
    {
        foreach (ref readonly var own in _ranges.AsSpan())
            if (own.Low - slack <= range.Low && range.High <= own.High + slack) return true;
        return false;
    }

    /// <summary>Another set: this one and a range.</summary>
    public ValueSet With(in ValueRange range) => new(Joined(range));

    /// <summary>Takes a range into this set itself.</summary>
    public void Include(in ValueRange range)
    {
        if (_ranges is [var own] && own.Low <= range.High && range.Low <= own.High) _ranges[0] = own.With(range);
        else _ranges = Joined(range);
    }

    private ValueRange[] Joined(ValueRange range)
    {
        int first = 0, after;
        while (first < _ranges.Length && _ranges[first].High < range.Low) first++;
        for (after = first; after < _ranges.Length && _ranges[after].Low <= range.High; after++) range = _ranges[after].With(range);
        return [.. _ranges.AsSpan(0, first), range, .. _ranges.AsSpan(after)];
    }
}

/// <summary>All gains from one to another, in dB.</summary>
internal readonly record struct ValueRange(double Low, double High)
{
    public bool IsEmpty => !(Low <= High);

    /// <summary>The least range that holds both.</summary>
    public ValueRange With(in ValueRange other) => new(Math.Min(Low, other.Low), Math.Max(High, other.High));

    public double Clamp(double value) => Math.Min(High, Math.Max(Low, value));
}
