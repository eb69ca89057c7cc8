namespace Mixscore.Protocols.Midi;

/// <summary>The kind of a MIDI 1.0 message; the number is its status byte, for channel messages that of channel 1.</summary>
public enum MidiKind
{
    /// <summary>No message.</summary>
    None = 0,

    /// <summary>Key, velocity.</summary>
    NoteOff = 0x80,

    /// <summary>Key, velocity; velocity 0 ends the note.</summary>
    NoteOn = 0x90,

    /// <summary>Key, pressure.</summary>
    KeyPressure = 0xA0,

    /// <summary>Controller, value.</summary>
    ControlChange = 0xB0,

    /// <summary>Program.</summary>
    ProgramChange = 0xC0,

    /// <summary>Pressure.</summary>
    ChannelPressure = 0xD0,

    /// <summary>Low byte, high byte.</summary>
    PitchBend = 0xE0,

    /// <summary>System exclusive; its bytes are with the parser.</summary>
    SystemExclusive = 0xF0,

    /// <summary>MIDI timecode, an eighth of a label.</summary>
    QuarterFrame = 0xF1,

    /// <summary>Low byte, high byte, in sixteenths from the beginning.</summary>
    SongPosition = 0xF2,

    /// <summary>Song number.</summary>
    SongSelect = 0xF3,

    /// <summary>No data.</summary>
    TuneRequest = 0xF6,

    /// <summary>24 in a quarter.</summary>
    Clock = 0xF8,

    /// <summary>Run from position 0.</summary>
    Start = 0xFA,

    /// <summary>Run from where it stands.</summary>
    Continue = 0xFB,

    /// <summary>Stop.</summary>
    Stop = 0xFC,

    /// <summary>The line is alive.</summary>
    ActiveSensing = 0xFE,

    /// <summary>Back to the state after power-up.</summary>
    SystemReset = 0xFF,
}
