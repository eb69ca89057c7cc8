namespace Mixscore.Loudness;

public sealed partial class LoudnessMeter
{
    /// <summary>
    /// Loudness of the last whole 0.4 s, ungated, renewed every 10 ms; <c>null</c> before 0.4 s and in silence.
    /// EBU Tech 3341, 2.2.
    /// </summary>
    public Lufs? Momentary => Lufs.FromMeanSquare(Asked(Measure.Momentary, _momentary));

    /// <summary>
    /// Loudness of the last whole 3 s, ungated, renewed every 10 ms; <c>null</c> before 3 s and in silence. EBU Tech 3341, 2.2.
    /// </summary>
    public Lufs? ShortTerm => Lufs.FromMeanSquare(Asked(Measure.ShortTerm, _shortTerm));

    /// <summary>The largest <see cref="Momentary"/> since the start.</summary>
    public Lufs? MaxMomentary => Lufs.FromMeanSquare(Asked(Measure.Momentary, _maxMomentary));

    /// <summary>The largest <see cref="ShortTerm"/> since the start.</summary>
    public Lufs? MaxShortTerm => Lufs.FromMeanSquare(Asked(Measure.ShortTerm, _maxShortTerm));

    /// <summary>
    /// Gated loudness since the start: blocks of 0.4 s every 0.1 s, an unfinished one left out; <c>null</c> before the first
    /// block and while none is above -70 LUFS. Looks through all blocks. ITU-R BS.1770-5, Annex 1, eq. 3 to 7.
    /// </summary>
    public Lufs? Integrated => IntegratedGate.Loudness(Asked(Measure.Integrated, _integrated));

    /// <summary>
    /// Loudness range since the start, LU, of 3 s windows every 0.1 s; <c>null</c> before 3 s and while none reaches -70 LUFS;
    /// unstable in the first 60 s (EBU Tech 3341, 2.4). Sorts all windows. EBU Tech 3342, 3.1.
    /// </summary>
    /// <remarks>
    /// No silence is added at the end: windows that end within the sound are all that count, as on a live meter. Whoever measures
    /// a file as EBU Tech 3342 advises pushes 1.5 s of zeros first, and reads integrated loudness before.
    /// </remarks>
    public Decibels? Range => Asked(Measure.Range, _range).Range();

    /// <summary>Largest sample magnitude of any channel since the start, dBFS.</summary>
    public Decibels? SamplePeak => Decibels.FromGain(Asked(Measure.SamplePeak, _samplePeak));

    /// <summary>
    /// Largest magnitude of any channel since the start, dBTP: of the samples and of the signal over-sampled 4 times, from 96 kHz
    /// twice, at 192 kHz not. ITU-R BS.1770-5, Annex 2.
    /// </summary>
    /// <remarks>
    /// The interpolation runs 6 samples behind. The printed filter is not flat: between the samples it reads up to 0.22 dB too
    /// much (tones near 0.08 and 0.25 of the sample rate) or too little, and less still from 0.45 of it.
    /// </remarks>
    public Decibels? TruePeak => Decibels.FromGain(Asked(Measure.TruePeak, _truePeak));

    /// <summary><see cref="TruePeak"/> within the last push alone; <c>null</c> when that was empty or silent.</summary>
    public Decibels? TruePeakOfLastPush => Decibels.FromGain(Asked(Measure.TruePeak, _truePeakOfLastPush));

    /// <summary>The energy of all that was pushed so far; an unfinished hop counts as filled up with silence.</summary>
    public EnergyTrack ToEnergyTrack()
    {
        var track = Asked(Measure.EnergyTrack, _track);
        var hops = new double[track.Count + (_framesInHop > 0 ? 1 : 0)];
        track.CopyTo(hops);
        if (_framesInHop > 0) hops[^1] = WeightedSum() / (_framesInHop + _framesLeft);
        return new EnergyTrack(1.0 / HopGrid.HopsPerSecond, hops);
    }

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
        return IntegratedGate.Loudness([.. meters.Select(meter => meter.Asked(Measure.Integrated, meter._integrated))]);
    }

    private T Asked<T>(Measure measure, T? value) => Measures.HasFlag(measure)
        ? value!
        : throw new InvalidOperationException($"This meter was made without Measure.{measure}.");
}
