namespace Mixscore.Desk;

/// <summary>What kind of MIDI message sets a control.</summary>
public enum MidiKind
{
    /// <summary>A control change, or with 14 bits a pair of them: number n takes the high byte, n + 32 the low one.</summary>
    Control,

    /// <summary>A non-registered parameter: controls 99 and 98 choose it, 6 and 38 take the value's high and low byte.</summary>
    Nrpn,

    /// <summary>Pitch bend; 14 bits, 8192 being its centre.</summary>
    PitchBend,
}
