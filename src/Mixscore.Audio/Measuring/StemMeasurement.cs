using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>What was measured of one stem. All times are the stem's own, so the link's delay later than the click.</summary>
public sealed record StemMeasurement
{
    /// <summary>The source's name.</summary>
    public required string Source { get; init; }

    /// <summary>Gated loudness of the whole stem; <c>null</c> where it never rises over the gate.</summary>
    public required Lufs? Integrated { get; init; }

    /// <summary>Loudness range, LU; <c>null</c> where the stem is too short or too soft.</summary>
    public required Decibels? Range { get; init; }

    /// <summary>dBTP; <c>null</c> for digital silence.</summary>
    public required Decibels? TruePeak { get; init; }

    /// <summary>
    /// How far the stem stands off zero: the mean of all samples, dBFS, of the channel that stands off most; <c>null</c> where that
    /// is 0. Our own definition, no source.
    /// </summary>
    public Decibels? DirectCurrent { get; init; }

    /// <summary>
    /// Where it was clipped, in order: three samples in a row or more at full scale, with less than 50 ms between such runs.
    /// </summary>
    public IReadOnlyList<Stretch> Clipped { get; init; } = [];

    /// <summary>
    /// What the feed sounds like when nobody plays: the median momentary loudness of the time that is neither active nor
    /// a dropout, a noise burst nor digital silence. Where that is less than half a second, the 5th percentile of momentary
    /// loudness outside dropouts and bursts. <c>null</c> where the stem is silent. Our own definition, no source.
    /// </summary>
    public required Lufs? NoiseFloor { get; init; }

    /// <summary>Where it plays, in order; a dropout is not part of it, nor is a noise burst. Edges are right to some 50 ms.</summary>
    public required IReadOnlyList<Stretch> Active { get; init; }

    /// <summary>Where the link dropped, in order.</summary>
    public required IReadOnlyList<Stretch> Drops { get; init; }

    /// <summary>Where noise of the link breaks in, in order: 4.5 ms to 2.5 s of near-white noise, as a receiver makes that loses its sender.</summary>
    public IReadOnlyList<Stretch> Bursts { get; init; } = [];

    /// <summary>One a bar in played order.</summary>
    public required IReadOnlyList<BarLoudness> Bars { get; init; }

    /// <summary>Whether the middle of each hop of a track lies in an active stretch.</summary>
    /// <param name="hops">How many hops.</param>
    /// <param name="hopSeconds">How long a hop is, seconds.</param>
    public IReadOnlyList<bool> ActiveHops(int hops, double hopSeconds)
    {
        var active = new bool[hops];
        foreach (var stretch in Active)
        {
            var from = Math.Max(0, (int)Math.Ceiling(stretch.From.Value / hopSeconds - 0.5));
            for (var i = from; i < hops && (i + 0.5) * hopSeconds < stretch.To.Value; i++) active[i] = true;
        }
        return active;
    }
}

/// <summary>How loud a source is in a bar, before any fader.</summary>
/// <param name="Index">The bar's place in the played order, from 1.</param>
/// <param name="Loudness">The mean over the bar's active time, the link's delay later; <c>null</c> where it has less than 50 ms of that.</param>
public readonly record struct BarLoudness(int Index, Lufs? Loudness);

/// <summary>A stem with all that was measured of it.</summary>
/// <param name="Stem">The source and its file.</param>
/// <param name="Measurement">Its figures.</param>
/// <param name="Energy">Its energy on hops of 10 ms, each to single precision.</param>
public sealed record MeasuredStem(SourceStem Stem, StemMeasurement Measurement, EnergyTrack Energy);
