namespace Mixscore.Loudness.Tests;

/// <summary>Test signals from their published descriptions.</summary>
internal static class Tones
{
    public const int Rate = 48_000;

    /// <summary>A stretch of tone: seconds and peak level in dBFS; null is silence.</summary>
    public readonly record struct Stretch(double Seconds, double? Level);

    /// <summary>1 kHz, the same on every channel, phase running on from stretch to stretch.</summary>
    public static float[] Stereo(params IEnumerable<Stretch> stretches) => Interleaved(2, stretches, frequency: 1000);

    public static float[] Interleaved(int channels, IEnumerable<Stretch> stretches, double frequency = 1000, int rate = Rate)
    {
        var list = stretches.ToArray();
        var frames = list.Select(s => (int)Math.Round(s.Seconds * rate)).ToArray();
        var all = new float[frames.Sum() * channels];
        var at = 0;
        for (var s = 0; s < list.Length; s++)
        {
            var gain = list[s].Level is { } level ? Math.Pow(10, level / 20) : 0;
            for (var end = at + frames[s]; at < end; at++)
                all.AsSpan(at * channels, channels).Fill((float)(gain * Math.Sin(2 * Math.PI * frequency * at / rate)));
        }
        return all;
    }

    /// <summary>A tone whose channels have levels of their own; null is silence.</summary>
    public static float[] Channels(double seconds, double frequency, int rate, params double?[] levels)
    {
        var all = new float[(int)Math.Round(seconds * rate) * levels.Length];
        for (var i = 0; i < all.Length; i++)
            if (levels[i % levels.Length] is { } level)
                all[i] = (float)(Math.Pow(10, level / 20) * Math.Sin(2 * Math.PI * frequency * (i / levels.Length) / rate));
        return all;
    }

    public static LoudnessMeter Measured(float[] samples, int channels = 2, int rate = Rate, Measure measures = Measure.All)
    {
        var meter = new LoudnessMeter(new SoundFormat(rate, channels), measures);
        meter.Push(samples);
        return meter;
    }

    public static void Within(double tolerance, double wanted, double? found)
    {
        Assert.NotNull(found);
        Assert.InRange(found.Value, wanted - tolerance, wanted + tolerance);
    }
}
