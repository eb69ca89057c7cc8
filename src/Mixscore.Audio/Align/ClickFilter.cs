using System.Numerics;
using Mixscore.Planning;

namespace Mixscore.Audio;

/// <summary>
/// How much a recording is like one sound of the click at each sample: the correlation with a pitch that dies away. Since
/// that sound is the response of a resonator with one pole, the correlation is that resonator run from the end of the
/// recording to its beginning (derived); its real part looks for the sound as we make it, its size for any phase of it.
/// </summary>
internal sealed class ClickFilter
{
    /// <summary>After so many times its decay a sound is 60 dB down, and what lies behind it does not count.</summary>
    private const double Lifetimes = 7;

    private readonly Complex _pole;
    private readonly int _memory;

    internal ClickFilter(ClickKind kind, int sampleRate)
    {
        var sound = ClickSound.Of(kind);
        _pole = Complex.FromPolarCoordinates(Math.Exp(-1 / (sound.Decay * sampleRate)), 2 * Math.PI * sound.Hertz / sampleRate);
        _memory = (int)(Lifetimes * sound.Decay * sampleRate);
    }

    /// <summary>The greatest size in each bin of so many samples.</summary>
    internal float[] Bins(ReadOnlySpan<float> samples, int bin)
    {
        var greatest = new float[(samples.Length + bin - 1) / bin];
        var (real, imaginary) = (0.0, 0.0);
        var (a, b) = (_pole.Real, _pole.Imaginary);
        for (var i = samples.Length - 1; i >= 0; i--)
        {
            (real, imaginary) = (samples[i] + a * real - b * imaginary, a * imaginary + b * real);
            var size = (float)(real * real + imaginary * imaginary);
            if (size > greatest[i / bin]) greatest[i / bin] = size;
        }
        for (var i = 0; i < greatest.Length; i++) greatest[i] = MathF.Sqrt(greatest[i]);
        return greatest;
    }

    /// <summary>The correlation at the samples of a stretch; nothing lies outside the recording.</summary>
    internal void At(ReadOnlySpan<float> samples, long from, Span<Complex> correlation)
    {
        var value = Complex.Zero;
        for (var i = from + correlation.Length - 1 + _memory; i >= from; i--)
        {
            value = value * _pole + (i >= 0 && i < samples.Length ? samples[(int)i] : 0);
            if (i - from < correlation.Length) correlation[(int)(i - from)] = value;
        }
    }
}
