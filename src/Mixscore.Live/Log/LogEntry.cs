using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>One thing that happened in a run.</summary>
/// <param name="Kind">What.</param>
/// <param name="When">On the run's own time.</param>
/// <param name="At">Seconds into the score.</param>
public readonly record struct LogEntry(LogKind Kind, TimeSpan When, Seconds At)
{
    /// <summary>Which source or desk, from 0; −1 for none.</summary>
    public int Index { get; init; } = -1;

    /// <summary>Whether a gain belongs to it; then <see cref="Gain"/> <c>null</c> is off.</summary>
    public bool HasGain { get; init; }

    /// <summary>A gain in dB, or an offset.</summary>
    public Decibels? Gain { get; init; }

    /// <summary>A number: seconds, beats or a count, as the kind has it.</summary>
    public double? Number { get; init; }

    /// <summary>Whether it was during a count-in, which is no place in the score.</summary>
    public bool IsCountIn { get; init; }

    /// <summary>Words; <c>null</c> for none.</summary>
    public string? Text { get; init; }
}
