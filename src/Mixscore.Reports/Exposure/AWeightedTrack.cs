using System.Numerics;
using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>The A-weighted power of a recording, step by step, relative to full scale: its spectrum, weighted bin by bin, so that the weighting is exact up to the highest frequency.</summary>
public sealed class AWeightedTrack
{
    private const int Block = 4096, Hop = Block / 2;
    private readonly double[] _power;

    private AWeightedTrack(double[] power, int sampleRate) => (_power, Step) = (power, new Seconds((double)Hop / sampleRate));

    /// <summary>How long a step is.</summary>
    public Seconds Step { get; }

    /// <summary>Mean square after the weighting, all channels together, full scale 1; one a step.</summary>
    public IReadOnlyList<double> Power => _power;

    /// <summary>Measures a file.</summary>
    /// <exception cref="InputException">The file is faulty.</exception>
    /// <exception cref="UnavailableException">The file cannot be read.</exception>
    public static AWeightedTrack Of(StemFile file, CancellationToken cancellation = default)
    {
        using var reader = file.Open();
        var (channels, rate) = (file.Format.Channels, file.Format.SampleRate);
        var (transform, bins) = (new FourierTransform(Block), new Complex[Block]);
        var (window, weights, scale) = Tables(rate);
        var power = new double[(file.Frames + Hop - 1) / Hop];
        var samples = new float[Block * channels];
        for (var step = 0; step < power.Length; step++)
        {
            cancellation.ThrowIfCancellationRequested();
            reader.Seek((long)step * Hop);
            var frames = reader.Read(samples) / channels;
            // Two channels at once, as the parts of a complex number: the power of both is that of the sum of both sides.
            for (var first = 0; first < channels; first += 2)
            {
                for (var i = 0; i < Block; i++)
                    bins[i] = i >= frames ? Complex.Zero : new Complex(samples[i * channels + first] * window[i], first + 1 < channels ? samples[i * channels + first + 1] * window[i] : 0);
                transform.Apply(bins);
                for (var i = 0; i < Block; i++) power[step] += scale * weights[i] * (bins[i].Real * bins[i].Real + bins[i].Imaginary * bins[i].Imaginary);
            }
        }
        return new AWeightedTrack(power, rate);
    }

    /// <summary>The mean power of the steps whose middle lies between two times.</summary>
    public double Mean(Seconds from, Seconds to)
    {
        int First(Seconds time) => (int)Math.Clamp(Math.Ceiling(time.Value / Step.Value - (double)Block / Hop / 2), 0, _power.Length);
        var (first, last) = (First(from), First(to));
        return last > first ? _power.AsSpan(first, last - first).ToArray().Average() : 0;
    }

    private static (double[] Window, double[] Weights, double Scale) Tables(int rate)
    {
        var (window, weights) = (new double[Block], new double[Block]);
        var power = 0.0;
        for (var i = 0; i < Block; i++)
        {
            window[i] = 0.5 - 0.5 * Math.Cos(2 * Math.PI * i / Block);
            power += window[i] * window[i];
            weights[i] = AWeighting.Power((double)Math.Min(i, Block - i) * rate / Block);
        }
        return (window, weights, 1 / (power * Block));
    }
}
