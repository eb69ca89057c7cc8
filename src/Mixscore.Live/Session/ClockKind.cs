namespace Mixscore.Live;

/// <summary>What tells where the piece is.</summary>
public enum ClockKind
{
    /// <summary>This machine's own click.</summary>
    Click,

    /// <summary>MIDI timecode.</summary>
    Mtc,

    /// <summary>MIDI clock with song position.</summary>
    Midi,

    /// <summary>A position by OSC, <c>/mixscore/clock</c>.</summary>
    Osc,

    /// <summary>Linear timecode as sound.</summary>
    Ltc,
}
