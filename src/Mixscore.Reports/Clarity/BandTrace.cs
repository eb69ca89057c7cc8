using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>What is heard of one source in the bands of speech: mean squares, a row each 100 ms of its stem.</summary>
public sealed class BandTrace
{
    private readonly double[][] _rows;
    private readonly Seconds _delay;

    private BandTrace(double[][] rows, Seconds delay) => (_rows, _delay) = (rows, delay);

    /// <summary>The time between two rows.</summary>
    public static Seconds Step { get; } = new(0.1);

    /// <summary>Reads a stem through its ride. Channels are added by their power.</summary>
    /// <param name="stem">The stem.</param>
    /// <param name="ride">Its ride.</param>
    /// <param name="tempo">When the ride's vertices come.</param>
    /// <param name="delay">How much later than the click the stem's sound is.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="InputException">The stem turned out to be faulty.</exception>
    public static BandTrace Of(StemFile stem, Ride ride, TempoMap tempo, Seconds delay, CancellationToken cancellation = default)
    {
        using var reader = stem.Open();
        var (channels, rate) = (stem.Format.Channels, stem.Format.SampleRate);
        var spectrum = new Spectrum(rate);
        var hop = (int)Math.Round(rate * Step.Value);
        var (block, one) = (new float[Spectrum.Length * channels], new float[Spectrum.Length]);
        var rows = new List<double[]>();
        for (long frame = 0; frame < stem.Frames; frame += hop)
        {
            cancellation.ThrowIfCancellationRequested();
            var row = new double[SpeechBands.Count];
            rows.Add(row);
            var middle = new Seconds((frame + Spectrum.Length / 2.0) / rate) - delay;
            if (ride.At(tempo.QuartersAt(middle)) is not { } gain) continue;
            reader.Seek(frame);
            Array.Clear(block);
            for (var filled = 0; filled < block.Length && reader.Read(block.AsSpan(filled)) is > 0 and var read;) filled += read;
            for (var channel = 0; channel < channels; channel++)
            {
                for (var i = 0; i < one.Length; i++) one[i] = block[i * channels + channel];
                spectrum.AddTo(one, row);
            }
            for (var band = 0; band < row.Length; band++) row[band] *= gain.ToPowerRatio();
        }
        return new BandTrace([.. rows], delay);
    }

    /// <summary>The row at a time by the click; <c>null</c> where there is no sound.</summary>
    public IReadOnlyList<double>? At(Seconds time)
    {
        var row = (int)Math.Round((time + _delay).Value / Step.Value);
        return row >= 0 && row < _rows.Length ? _rows[row] : null;
    }
}
