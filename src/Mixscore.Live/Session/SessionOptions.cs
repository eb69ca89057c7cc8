using System.Net;
using Mixscore.Desk;
using Mixscore.Protocols.Midi;

namespace Mixscore.Live;

/// <summary>How a live session is to be.</summary>
public sealed record SessionOptions
{
    /// <summary>The desks.</summary>
    public required IReadOnlyList<DeskMap> Desks { get; init; }

    /// <summary>MIDI or OSC faders that are no desk's: they take sources by their strips.</summary>
    public IReadOnlyList<DeskMap> Controllers { get; init; } = [];

    /// <summary>What tells where the piece is.</summary>
    public ClockKind Clock { get; init; }

    /// <summary>Where the clock's code comes from; <c>null</c> for a MIDI desk's own wire, for OSC the control port.</summary>
    public Endpoint? ClockFrom { get; init; }

    /// <summary>A sound file or pipe with linear timecode; <c>null</c> for none.</summary>
    public Stream? Sound { get; init; }

    /// <summary>The label at which bar 1 begins; <c>null</c> for 00:00:00:00, or the whole hour that a label past the end lies in.</summary>
    public Timecode? Zero { get; init; }

    /// <summary>How long a clock that stops is carried on.</summary>
    public TimeSpan? Carry { get; init; }

    /// <summary>How the run behaves.</summary>
    public RunSettings Run { get; init; } = new();

    /// <summary>Where the control port is; <c>null</c> for none.</summary>
    public IPEndPoint? Control { get; init; }

    /// <summary>The control port of the run whose spare this one is; <c>null</c> for none.</summary>
    public IPEndPoint? SpareOf { get; init; }

    /// <summary>The plan's file, for the log.</summary>
    public required string Plan { get; init; }

    /// <summary>A fingerprint of plan and rides, for the log.</summary>
    public required string PlanKey { get; init; }

    /// <summary>The folder for logs.</summary>
    public required string LogFolder { get; init; }

    /// <summary>Whether faders are moved from the beginning.</summary>
    public bool IsArmed { get; init; }

    /// <summary>Whether whoever opens the session ticks the run, in time with something else such as sound; otherwise a thread of its own does.</summary>
    public bool IsTickedFromOutside { get; init; }

    /// <summary>Whether the newest log is taken up.</summary>
    public bool Resumes { get; init; }
}
