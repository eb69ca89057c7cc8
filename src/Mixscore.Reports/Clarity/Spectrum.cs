using System.Numerics;
using Mixscore.Audio;

namespace Mixscore.Reports;

/// <summary>The power of a block of sound in the one-third octave bands of <see cref="SpeechBands"/>. One at a time, one thread.</summary>
internal sealed class Spectrum
{
    /// <summary>Frames in a block: bins of 12 Hz at 48 kHz, so that the lowest band, 37 Hz wide, has three.</summary>
    internal const int Length = 4096;

    private readonly Complex[] _bins = new Complex[Length];
    private readonly FourierTransform _transform = new(Length);
    private readonly double[] _window = new double[Length];
    private readonly int[] _band = new int[Length / 2];
    private readonly double _scale;

    internal Spectrum(int sampleRate)
    {
        var power = 0.0;
        for (var i = 0; i < Length; i++)
        {
            _window[i] = 0.5 - 0.5 * Math.Cos(2 * Math.PI * i / Length);
            power += _window[i] * _window[i];
        }
        _scale = 2 / (power * Length);   // one side of the spectrum; a mean square
        for (var i = 0; i < _band.Length; i++) _band[i] = BandOf((double)i * sampleRate / Length);
    }

    /// <summary>Adds the mean square of a block in each band.</summary>
    internal void AddTo(ReadOnlySpan<float> block, Span<double> bands)
    {
        for (var i = 0; i < Length; i++) _bins[i] = block[i] * _window[i];
        _transform.Apply(_bins);
        for (var i = 1; i < _band.Length; i++)
            if (_band[i] >= 0) bands[_band[i]] += _scale * (_bins[i].Real * _bins[i].Real + _bins[i].Imaginary * _bins[i].Imaginary);
    }

    /// <summary>Bands meet half-way between their centres, in octaves.</summary>
    private static int BandOf(double frequency)
    {
        if (frequency <= 0) return -1;
        for (var i = 0; i < SpeechBands.Count; i++)
            if (Math.Abs(Math.Log2(frequency / SpeechBands.Centres[i])) <= 1.0 / 6) return i;
        return -1;
    }
}
