namespace Mixscore.Loudness.Benchmarks;

/// <summary>What is measured; the same from run to run.</summary>
internal static class Material
{
    public const int Rate = 48_000;

    /// <summary>Notes of some partials that swell and die away, rests with a hiss between: like a stem.</summary>
    public static float[] Played(int seconds, int seed)
    {
        var random = new Random(seed);
        var samples = new float[seconds * Rate];
        for (var i = 0; i < samples.Length; i++) samples[i] = (random.NextSingle() - 0.5f) * 1e-3f;
        for (var at = 0; at < samples.Length;)
        {
            var length = Math.Min((int)(Rate * (0.1 + 1.2 * random.NextDouble())), samples.Length - at);
            var level = Math.Pow(10, (-40 + 28 * random.NextDouble()) / 20);
            if (random.Next(5) > 0) Note(samples.AsSpan(at, length), level, 80 * Math.Pow(2, 4 * random.NextDouble()));
            at += length;
        }
        return samples;
    }

    /// <summary>Uniform white noise: the true-peak bound never helps.</summary>
    public static float[] Noise(int seconds, int seed)
    {
        var random = new Random(seed);
        var samples = new float[seconds * Rate];
        for (var i = 0; i < samples.Length; i++) samples[i] = 1.8f * (random.NextSingle() - 0.5f);
        return samples;
    }

    /// <summary>A tone near full scale that never changes: each block could hold the peak.</summary>
    public static float[] Tone(int seconds, int seed)
    {
        var samples = new float[seconds * Rate];
        var step = 2 * Math.PI * (997 + 100 * seed) / Rate;
        for (var i = 0; i < samples.Length; i++) samples[i] = (float)(0.9 * Math.Sin(step * i));
        return samples;
    }

    private static void Note(Span<float> samples, double level, double frequency)
    {
        const int Partials = 5;
        for (var partial = 1; partial <= Partials; partial++)
        {
            // A rotating phasor: quicker than a sine a sample.
            var step = 2 * Math.PI * frequency * partial / Rate;
            var (re, im, c, s) = (1.0, 0.0, Math.Cos(step), Math.Sin(step));
            for (var i = 0; i < samples.Length; i++)
            {
                var swell = Math.Sin(Math.PI * i / samples.Length);
                samples[i] += (float)(level / partial * swell * im);
                (re, im) = (re * c - im * s, re * s + im * c);
            }
        }
    }
}
