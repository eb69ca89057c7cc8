namespace Mixscore.Loudness;

public sealed partial class LoudnessMeter
{
    /// <inheritdoc cref="LoudnessFigures.Momentary"/>
    public Lufs? Momentary => Figures.Momentary;

    /// <inheritdoc cref="LoudnessFigures.ShortTerm"/>
    public Lufs? ShortTerm => Figures.ShortTerm;

    /// <inheritdoc cref="LoudnessFigures.MaxMomentary"/>
    public Lufs? MaxMomentary => Figures.MaxMomentary;

    /// <inheritdoc cref="LoudnessFigures.MaxShortTerm"/>
    public Lufs? MaxShortTerm => Figures.MaxShortTerm;

    /// <inheritdoc cref="LoudnessFigures.Integrated"/>
    public Lufs? Integrated => Figures.Integrated;

    /// <inheritdoc cref="LoudnessFigures.Range"/>
    public Decibels? Range => Figures.Range;

    /// <inheritdoc cref="LoudnessFigures.SamplePeak"/>
    public Decibels? SamplePeak => Figures.SamplePeak;

    /// <inheritdoc cref="LoudnessFigures.TruePeak"/>
    public Decibels? TruePeak => Figures.TruePeak;

    /// <summary><see cref="TruePeak"/> within the last push alone; <c>null</c> when that was empty or silent.</summary>
    public Decibels? TruePeakOfLastPush => Measures.Includes(Measure.TruePeak)
        ? Decibels.FromGain(_truePeakOfLastPush)
        : throw new InvalidOperationException($"This meter was made without Measure.{Measure.TruePeak}.");

    /// <inheritdoc cref="LoudnessFigures.ToEnergyTrack"/>
    public EnergyTrack ToEnergyTrack() => Figures.ToEnergyTrack();

    /// <summary>
    /// The integrated loudness of several sounds as if they were one programme, by their gating blocks and not by averaging LUFS.
    /// Blocks that would lie across the seams are left out.
    /// </summary>
    /// <param name="meters">Each must measure <see cref="Measure.Integrated"/>.</param>
    /// <returns><c>null</c> when no block of any is above -70 LUFS.</returns>
    /// <exception cref="InvalidOperationException">One does not measure integrated loudness.</exception>
    public static Lufs? IntegratedOf(IEnumerable<LoudnessMeter> meters)
    {
        ArgumentNullException.ThrowIfNull(meters);
        return IntegratedGate.Loudness([.. meters.Select(meter => meter.Figures.Blocks)]);
    }
}
