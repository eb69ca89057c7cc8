namespace Mixscore.Protocols.Midi;

/// <summary>What a value is the value of.</summary>
public enum MidiTarget
{
    /// <summary>A controller.</summary>
    Controller,

    /// <summary>A registered parameter.</summary>
    Rpn,

    /// <summary>A non-registered parameter.</summary>
    Nrpn,

    /// <summary>Pitch bend.</summary>
    PitchBend,
}
