using System.Diagnostics;

namespace Mixscore.Score.Benchmarks;

/// <summary>Times work, and finds how it grows.</summary>
internal static class Timing
{
    /// <summary>The median of so many runs in milliseconds, after three that do not count.</summary>
    internal static double Median(int runs, Action work)
    {
        for (var i = 0; i < 3; i++) work();
        var times = new double[runs];
        for (var i = 0; i < runs; i++)
        {
            var start = Stopwatch.GetTimestamp();
            work();
            times[i] = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        }
        Array.Sort(times);
        return times[runs / 2];
    }

    /// <summary>The slope of the line of least squares.</summary>
    internal static double Slope(double[] x, double[] y)
    {
        var (meanX, meanY) = (x.Average(), y.Average());
        return x.Zip(y, (a, b) => (a - meanX) * (b - meanY)).Sum() / x.Sum(a => (a - meanX) * (a - meanX));
    }
}
