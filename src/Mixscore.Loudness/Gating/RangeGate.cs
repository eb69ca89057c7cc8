namespace Mixscore.Loudness;

/// <summary>Loudness range from 3 s windows at 10 Hz. Source: EBU Tech 3342, 3.1 and 5.</summary>
internal sealed class RangeGate(History history = History.Exact)
{
    /// <summary>Per cent. EBU Tech 3342, 3.1.</summary>
    private const int Low = 10, High = 95;

    private readonly BlockStore _loud = new();
    private readonly LevelHistogram? _levels = history == History.Bounded ? new() : null;
    private double _sum;

    public void Add(double meanSquare)
    {
        if (!(meanSquare >= Gates.Absolute)) return;
        if (_levels is not null) _levels.Add(meanSquare);
        else _loud.Add(meanSquare);
        _sum += meanSquare;
    }

    /// <summary><c>null</c> when no window passes the absolute gate; 0 for a single one.</summary>
    public Decibels? Range() => _levels is not null ? Range(_levels) : Range(_loud);

    private Decibels? Range(BlockStore loud)
    {
        if (loud.Count == 0) return null;
        var sorted = new double[loud.Count];
        loud.CopyTo(sorted);
        Array.Sort(sorted);
        var threshold = Gates.RelativeForRange * (_sum / sorted.Length);
        var kept = sorted.AsSpan(Array.FindIndex(sorted, meanSquare => meanSquare >= threshold)..);
        return Decibels.FromPowerRatio(Percentile(kept, High) / Percentile(kept, Low));
    }

    private Decibels? Range(LevelHistogram levels)
    {
        if (levels.Count == 0) return null;
        var threshold = Gates.RelativeForRange * (_sum / levels.Count);
        var count = levels.Above(threshold, orOn: true).Count;
        return Decibels.FromPowerRatio(levels.At(Place(count, High), threshold, orOn: true) / levels.At(Place(count, Low), threshold, orOn: true));
    }

    // The published listing's index, counted from 1, is round((n - 1) p / 100 + 1), halves upwards; no interpolation.
    private static double Percentile(ReadOnlySpan<double> sorted, int percent) =>
        sorted[(int)Place(sorted.Length, percent)];

    private static long Place(long count, int percent) => ((count - 1) * percent + 50) / 100;
}
