using System.Text.Json;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>A line of a log, read back.</summary>
/// <param name="Kind">What happened.</param>
/// <param name="T">Since the log was begun.</param>
public sealed record LogRecord(LogKind Kind, TimeSpan T)
{
    /// <summary>The position; <c>null</c> before the beginning.</summary>
    public string? At { get; init; }

    /// <summary>Seconds into the score.</summary>
    public Seconds? Seconds { get; init; }

    /// <summary>The source's name; <c>null</c> for none.</summary>
    public string? Source { get; init; }

    /// <summary>The desk, from 1; <c>null</c> for none.</summary>
    public int? Desk { get; init; }

    /// <summary>Whether there is a gain; then <see cref="Gain"/> <c>null</c> is off.</summary>
    public bool HasGain { get; init; }

    /// <summary>A gain or an offset.</summary>
    public Decibels? Gain { get; init; }

    /// <summary>The line's number.</summary>
    public double? Value { get; init; }

    /// <summary>The line's words.</summary>
    public string? Text { get; init; }

    /// <summary>All that the line says.</summary>
    public JsonElement Details { get; init; }
}
