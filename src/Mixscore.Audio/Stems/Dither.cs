namespace Mixscore.Audio;

/// <summary>Triangular dither of ±1 step of 24 bits: the sum of two even ones, seeded, so that a file comes out the same twice.</summary>
internal sealed class Dither
{
    private const float Step = 1f / (1 << 23);
    private readonly SeededNoise _noise = new(0x6d6978);

    internal void Add(ReadOnlySpan<float> samples, Span<float> target)
    {
        for (var i = 0; i < samples.Length; i++) target[i] = samples[i] + 0.5f * Step * (_noise.Even() + _noise.Even());
    }
}
