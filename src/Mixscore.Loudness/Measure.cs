namespace Mixscore.Loudness;

/// <summary>What a <see cref="LoudnessMeter"/> keeps account of. Less costs less time.</summary>
[Flags]
public enum Measure
{
    /// <summary>Nothing but the length and the faulty samples.</summary>
    None = 0,

    /// <summary>Loudness of the last 0.4 s and its maximum, EBU Tech 3341, 2.2.</summary>
    Momentary = 1,

    /// <summary>Loudness of the last 3 s and its maximum, EBU Tech 3341, 2.2.</summary>
    ShortTerm = 2,

    /// <summary>Gated loudness since the start, ITU-R BS.1770-5, Annex 1.</summary>
    Integrated = 4,

    /// <summary>Loudness range since the start, EBU Tech 3342.</summary>
    Range = 8,

    /// <summary>Largest sample magnitude.</summary>
    SamplePeak = 16,

    /// <summary>Largest magnitude of the over-sampled signal, ITU-R BS.1770-5, Annex 2.</summary>
    TruePeak = 32,

    /// <summary>Every figure that a meter shows; not <see cref="EnergyTrack"/>.</summary>
    All = Momentary | ShortTerm | Integrated | Range | SamplePeak | TruePeak,

    /// <summary>The mean square of every 10 ms hop, 2.9 MB an hour.</summary>
    EnergyTrack = 64,
}

internal static class MeasureExtensions
{
    /// <summary>Whether one is among them. <see cref="Enum.HasFlag"/> takes memory until the compiler has looked twice.</summary>
    public static bool Includes(this Measure measures, Measure one) => (measures & one) != 0;
}
