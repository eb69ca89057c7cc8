using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>One take against an earlier one of the same music.</summary>
/// <param name="Lag">How much later the same music stands in the new take; below 0 for earlier.</param>
/// <param name="Likeness">Correlation of the two there, from −1 to 1.</param>
public sealed record TakeAlignment(Seconds Lag, double Likeness)
{
    private const double CoarseSeconds = 0.01, FineSeconds = 0.001, BackSeconds = 0.04;

    /// <summary>Two takes that are less alike than this are of other music, or one of them is of nothing. Our own choice.</summary>
    private const double LeastLikeness = 0.2;

    /// <summary>Cross-correlates how the loudness of two takes grows, which is where notes begin: to a hundredth of a second over all lags, then to a thousandth around the best.</summary>
    /// <param name="take">One channel.</param>
    /// <param name="earlier">One channel of the earlier take.</param>
    /// <param name="sampleRate">The rate of both.</param>
    /// <param name="most">The greatest lag that is looked at.</param>
    /// <param name="around">Where a person says that it is about, within a second; <c>null</c> for no such hint.</param>
    /// <returns><c>null</c> where nothing is alike.</returns>
    public static TakeAlignment? Find(ReadOnlySpan<float> take, ReadOnlySpan<float> earlier, int sampleRate, Seconds most, Seconds? around = null)
    {
        var hint = around?.Value ?? 0;
        var reach = around is null ? most.Value : 1;
        return Find(take, sampleRate, earlier, sampleRate, new Seconds(hint - reach), new Seconds(hint + reach));
    }

    /// <summary>The same for takes of two rates, over the lags from one to another.</summary>
    /// <returns><c>null</c> where nothing is alike.</returns>
    internal static TakeAlignment? Find(ReadOnlySpan<float> take, int takeRate, ReadOnlySpan<float> earlier, int earlierRate, Seconds least, Seconds most)
    {
        var (lag, likeness) = Best(Growth(take, takeRate, CoarseSeconds), Growth(earlier, earlierRate, CoarseSeconds), (int)Math.Round(least.Value / CoarseSeconds), (int)Math.Round(most.Value / CoarseSeconds));
        if (likeness < LeastLikeness) return null;
        var per = (int)Math.Round(CoarseSeconds / FineSeconds);
        var (fine, _) = Best(Growth(take, takeRate, FineSeconds), Growth(earlier, earlierRate, FineSeconds), (lag - 2) * per, (lag + 2) * per);
        return new TakeAlignment(new Seconds(fine * FineSeconds), likeness);
    }

    private static (int Lag, double Likeness) Best(float[] take, float[] earlier, int least, int most)
    {
        var found = new (int Lag, double Likeness)[most - least + 1];
        Parallel.For(0, found.Length, i => found[i] = (least + i, Alike(take, earlier, least + i)));
        return found.MaxBy(one => one.Likeness);
    }

    /// <summary>The correlation over what both have, for lags that leave at least half of the shorter one.</summary>
    private static double Alike(float[] take, float[] earlier, int lag)
    {
        var (from, to) = (Math.Max(0, lag), Math.Min(take.Length, earlier.Length + lag));
        if (to - from < Math.Min(take.Length, earlier.Length) / 2) return -1;
        var (product, own, other) = (0.0, 0.0, 0.0);
        for (var i = from; i < to; i++)
        {
            product += take[i] * earlier[i - lag];
            own += take[i] * take[i];
            other += earlier[i - lag] * earlier[i - lag];
        }
        return own > 0 && other > 0 ? product / Math.Sqrt(own * other) : -1;
    }

    /// <summary>How much louder each step is than the mean of the 40 ms before it, in decibels and about its mean; a floor 60 dB under the loudest keeps noise out.</summary>
    private static float[] Growth(ReadOnlySpan<float> samples, int rate, double step)
    {
        // At 44.1 kHz a thousandth of a second is no whole number of samples, and steps must not drift from the clock.
        int At(int i) => (int)Math.Round(i * step * rate);
        var levels = new double[(int)(samples.Length / (step * rate))];
        for (var i = 0; i < levels.Length; i++)
        {
            var (from, to) = (At(i), Math.Min(At(i + 1), samples.Length));
            var sum = 0.0;
            foreach (var sample in samples[from..to]) sum += (double)sample * sample;
            levels[i] = sum / Math.Max(1, to - from);
        }
        var floor = (levels.Length > 0 ? levels.Max() : 0) * 1e-6 + 1e-12;
        for (var i = 0; i < levels.Length; i++) levels[i] = 10 * Math.Log10(levels[i] + floor);
        var back = Math.Max(4, (int)Math.Round(BackSeconds / step));
        var growth = new float[levels.Length];
        var mean = 0.0;
        for (var i = 0; i < levels.Length; i++)
        {
            var before = 0.0;
            var count = Math.Min(back, i);
            for (var k = i - count; k < i; k++) before += levels[k];
            growth[i] = count == 0 ? 0 : (float)Math.Max(0, levels[i] - before / count);
            mean += growth[i];
        }
        mean /= Math.Max(1, levels.Length);
        for (var i = 0; i < growth.Length; i++) growth[i] -= (float)mean;
        return growth;
    }
}
