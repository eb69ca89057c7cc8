using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>What a meter reads at the end of a sound; <c>null</c> where there is nothing to read.</summary>
/// <param name="Duration">How long the sound is.</param>
/// <param name="Integrated">Gated loudness.</param>
/// <param name="Range">Loudness range, LU.</param>
/// <param name="MaxMomentary">The loudest 0.4 s.</param>
/// <param name="MaxShortTerm">The loudest 3 s.</param>
/// <param name="TruePeak">dBTP.</param>
public sealed record SoundFigures(Seconds Duration, Lufs? Integrated, Decibels? Range, Lufs? MaxMomentary, Lufs? MaxShortTerm, Decibels? TruePeak)
{
    private const Measure Asked = Measure.Integrated | Measure.Range | Measure.Momentary | Measure.ShortTerm | Measure.TruePeak;

    /// <summary>Measures a whole file in one pass.</summary>
    /// <param name="file">The file.</param>
    /// <param name="progress">Told how much is done, 0 to 1; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="InputException">As at <see cref="StemReader.Read"/>.</exception>
    /// <exception cref="UnavailableException">As at <see cref="StemReader.Read"/>.</exception>
    public static SoundFigures Of(StemFile file, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        using var reader = file.Open();
        var meter = Meter(file.Format);
        var block = new float[16_384 * file.Format.Channels];
        while (reader.Read(block) is > 0 and var samples)
        {
            cancellation.ThrowIfCancellationRequested();
            meter.Push(block.AsSpan(0, samples));
            progress?.Report((double)reader.Frame / file.Frames);
        }
        return Of(meter);
    }

    internal static LoudnessMeter Meter(SoundFormat format) => new(format, Asked);

    internal static SoundFigures Of(LoudnessMeter meter) =>
        new(new Seconds(meter.Seconds), meter.Integrated, meter.Range, meter.MaxMomentary, meter.MaxShortTerm, meter.TruePeak);
}
