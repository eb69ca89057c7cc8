using CsCheck;

namespace Mixscore.Loudness.Tests;

/// <summary>Random programmes: noise and tones in stretches of random level, each channel its own.</summary>
internal static class Programmes
{
    /// <summary>One of a few.</summary>
    public static Gen<int> AnyOf(params int[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    public static readonly Gen<float[]> AnyStretch =
        from length in Gen.Int[1, 30_000]
        from level in Gen.Double[-85, 0]
        from noise in Gen.Bool
        from frequency in Gen.Double[20, 18_000]
        from seed in Gen.Int
        select Stretch(length, Math.Pow(10, level / 20), noise, frequency, seed);

    /// <summary>Samples for one interleaved signal, cut to whole frames.</summary>
    public static Gen<float[]> Of(int channels, int stretches) =>
        from parts in AnyStretch.Array[stretches]
        select Whole([.. parts.SelectMany(part => part)], channels);

    public static float[] Noise(int samples, double size, int seed) => Stretch(samples, size, true, 0, seed);

    private static float[] Whole(float[] samples, int channels) => samples[..(samples.Length / channels * channels)];

    private static float[] Stretch(int length, double size, bool noise, double frequency, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, length).Select(i => (float)(size * (noise
            ? 2 * random.NextDouble() - 1
            : Math.Sin(2 * Math.PI * frequency * i / 48_000))))];
    }
}
