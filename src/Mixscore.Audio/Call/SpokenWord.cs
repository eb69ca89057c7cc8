namespace Mixscore.Audio;

/// <summary>Words made alike: no silence around them, edges that do not click, and one loudness.</summary>
internal static class SpokenWord
{
    // Our own choices: speech sits under the accent of the click and over an engine's noise.
    private const double Silence = 0.004, Level = 0.12, Tallest = 0.8, EdgeSeconds = 0.004;

    internal static float[] Of(ReadOnlySpan<float> samples, int sampleRate)
    {
        var word = Trimmed(Resampler.To(samples, sampleRate, ClickTrack.SampleRate));
        if (word.Length == 0) return word;
        var (power, peak) = (0.0, 0f);
        foreach (var sample in word)
        {
            power += (double)sample * sample;
            peak = Math.Max(peak, Math.Abs(sample));
        }
        var gain = (float)Math.Min(Level / Math.Sqrt(power / word.Length), Tallest / peak);
        var edge = Math.Min(word.Length / 2, (int)(EdgeSeconds * ClickTrack.SampleRate));
        for (var i = 0; i < word.Length; i++) word[i] *= gain * Math.Min(1f, Math.Min(i, word.Length - 1 - i) / (float)Math.Max(1, edge));
        return word;
    }

    private static float[] Trimmed(float[] samples)
    {
        var peak = 0f;
        foreach (var sample in samples) peak = Math.Max(peak, Math.Abs(sample));
        var floor = (float)(peak * Silence);
        var (first, last) = (0, samples.Length - 1);
        while (first <= last && Math.Abs(samples[first]) <= floor) first++;
        while (last > first && Math.Abs(samples[last]) <= floor) last--;
        return first > last || peak == 0 ? [] : samples[first..(last + 1)];
    }
}
