using System.Runtime.ExceptionServices;
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

    /// <summary>Measures a whole file, its segments side by side.</summary>
    /// <param name="file">The file.</param>
    /// <param name="progress">Told how much is done, 0 to 1; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="InputException">As at <see cref="StemReader.Read"/>.</exception>
    /// <exception cref="UnavailableException">As at <see cref="StemReader.Read"/>.</exception>
    public static SoundFigures Of(StemFile file, IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        var (done, gate) = (0L, new Lock());
        (long Frame, Exception Why)? fault = null;
        var sound = new ForgivingSound(new StemSound(file), (frame, e) =>
        {
            lock (gate)
                if (fault is not { } known || frame < known.Frame) fault = (frame, e);
        });
        var figures = WholeSounds.Measure([sound], Asked, told: Told, cancellation: cancellation)[0];
        if (fault is { } first) ExceptionDispatchInfo.Throw(first.Why);
        return Of(figures);

        void Told(long frames) => progress?.Report((double)Interlocked.Add(ref done, frames) / file.Frames);
    }

    internal static LoudnessMeter Meter(SoundFormat format) => new(format, Asked);

    internal static SoundFigures Of(LoudnessFigures figures) =>
        new(new Seconds(figures.Seconds), figures.Integrated, figures.Range, figures.MaxMomentary, figures.MaxShortTerm, figures.TruePeak);
}
