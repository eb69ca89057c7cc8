using System.Numerics;

namespace Mixscore.Audio;

/// <summary>Whether the spectrum of a stretch is that of near-white noise, laid over something else or not.</summary>
/// <remarks>
/// In four bands from 500 Hz to 7.5 kHz. Where the stretch stands 6 dB over what lies beside it, which it must over 3 kHz, its
/// mean power is compared; and where it is long enough to tell a voice's partials apart, its power in the valleys between them,
/// the third of its bins that is softest, in all four. Neither may differ between bands by more than 5 dB and 2.5 times
/// what chance makes of an estimate of so many seconds and hertz. A stretch under 10 ms must stand 10 dB over what lies beside it.
/// </remarks>
internal sealed class BurstSpectrum
{
    private const double WindowSeconds = 2048 / 48_000.0, MostFrames = 8;
    private const double LeastValleySeconds = 0.015, ShortSeconds = 0.01;
    private const double LeastOver = 4, LeastOverShort = 10;
    private const double Flat = 5, Deviations = 2.5;
    private static readonly double[] Edges = [500, 1500, 3000, 5000, 7500];

    private readonly int _rate;
    private readonly double[] _window;
    private readonly double _seconds;
    private readonly Complex[] _bins;
    private readonly FourierTransform _transform;

    /// <summary>For stretches of a length.</summary>
    /// <param name="rate">The sample rate.</param>
    /// <param name="frames">How long the stretch is.</param>
    /// <param name="transforms">Those that were made, by their length; what is missing is added.</param>
    internal BurstSpectrum(int rate, int frames, Dictionary<int, FourierTransform> transforms)
    {
        (_rate, _seconds) = (rate, (double)frames / rate);
        _window = new double[Math.Min(frames, (int)Math.Round(WindowSeconds * rate))];
        for (var i = 0; i < _window.Length; i++) _window[i] = 0.5 - 0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / _window.Length);
        _bins = new Complex[BitOperations.RoundUpToPowerOf2((uint)_window.Length)];
        if (!transforms.TryGetValue(_bins.Length, out var transform)) transforms.Add(_bins.Length, transform = new FourierTransform(_bins.Length));
        _transform = transform;
    }

    /// <summary>Looks.</summary>
    /// <param name="inside">The stretch.</param>
    /// <param name="before">What lies before it; where that is shorter than the window it is not looked at.</param>
    /// <param name="after">What lies after it; likewise.</param>
    internal bool IsNoise(ReadOnlySpan<float> inside, ReadOnlySpan<float> before, ReadOnlySpan<float> after)
    {
        var bands = Bands(Powers(inside));
        if (_seconds >= LeastValleySeconds && !IsFlat(Array.ConvertAll(bands, Valley))) return false;
        var means = Array.ConvertAll(bands, band => band.Average());
        var (left, right) = (Bands(Powers(before)), Bands(Powers(after)));
        double[] beside = [.. left.Zip(right, (one, other) => Math.Max(one.Average(), other.Average()))];
        double[] clear = [.. means.Where((mean, band) => mean >= LeastOver * beside[band])];
        if (means[2] < LeastOver * beside[2] || means[3] < LeastOver * beside[3] || !IsFlat(clear)) return false;
        return _seconds >= ShortSeconds || means[2] + means[3] >= LeastOverShort * (beside[2] + beside[3]);
    }

    /// <summary>A band a kilohertz wide gives a power from about 700 independent figures a second, each spread as wide as it is high.</summary>
    private bool IsFlat(double[] bands) =>
        10 * Math.Log10(bands.Max() / bands.Min()) <= Flat + Deviations * 10 / Math.Log(10) / Math.Sqrt(700 * Math.Min(_seconds, MostFrames * WindowSeconds));

    /// <summary>The mean power of each bin.</summary>
    private double[] Powers(ReadOnlySpan<float> sound)
    {
        var powers = new double[_bins.Length / 2];
        if (sound.Length < _window.Length) return powers;
        var frames = (int)Math.Min(MostFrames, 1 + 2 * (sound.Length - _window.Length) / _window.Length);
        for (var frame = 0; frame < frames; frame++)
        {
            var at = frames == 1 ? 0 : (int)((long)(sound.Length - _window.Length) * frame / (frames - 1));
            for (var i = 0; i < _window.Length; i++) _bins[i] = sound[at + i] * _window[i];
            _bins.AsSpan(_window.Length).Clear();
            _transform.Apply(_bins);
            for (var i = 0; i < powers.Length; i++) powers[i] += (_bins[i].Real * _bins[i].Real + _bins[i].Imaginary * _bins[i].Imaginary) / frames;
        }
        return powers;
    }

    /// <summary>The bins of each band, without the lowest ones, into which the window spills what lies under them.</summary>
    private double[][] Bands(double[] powers)
    {
        var lowest = 2.5 * _bins.Length / _window.Length;
        return [.. Enumerable.Range(0, Edges.Length - 1).Select(band => powers[(int)Math.Ceiling(Math.Max(lowest, Bin(Edges[band])))..(int)Math.Ceiling(Bin(Edges[band + 1]))])];

        double Bin(double hertz) => hertz * _bins.Length / _rate;
    }

    private static double Valley(double[] band)
    {
        Array.Sort(band);
        return band[band.Length * 3 / 10];
    }
}
