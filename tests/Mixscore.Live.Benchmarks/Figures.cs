namespace Mixscore.Live.Benchmarks;

/// <summary>What lies below what part of many.</summary>
internal static class Figures
{
    internal static double At(List<double> values, double part)
    {
        if (values.Count == 0) return 0;
        var sorted = values.Order().ToArray();
        return sorted[Math.Min(sorted.Length - 1, (int)(part * sorted.Length))];
    }
}
