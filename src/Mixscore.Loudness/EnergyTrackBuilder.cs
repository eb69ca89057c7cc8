namespace Mixscore.Loudness;

/// <summary>
/// Makes an <see cref="EnergyTrack"/>, in hops of 10 ms, from sound in blocks of any size. One thread at a time. Source: ITU-R
/// BS.1770-5, Annex 1, eq. 2, hop by hop.
/// </summary>
/// <param name="format">Rate, channels and their weights.</param>
public sealed class EnergyTrackBuilder(SoundFormat format)
{
    private readonly LoudnessMeter _meter = new(format, Measure.EnergyTrack);

    /// <inheritdoc cref="LoudnessMeter.Push"/>
    public void Push(ReadOnlySpan<float> interleaved) => _meter.Push(interleaved);

    /// <inheritdoc cref="LoudnessMeter.PushPlanar"/>
    public void PushPlanar(ReadOnlySpan<float> planar) => _meter.PushPlanar(planar);

    /// <summary>The track of all that was pushed; an unfinished last hop counts as filled up with silence.</summary>
    public EnergyTrack Finish() => _meter.ToEnergyTrack();
}
