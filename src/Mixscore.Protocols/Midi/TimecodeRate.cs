namespace Mixscore.Protocols.Midi;

/// <summary>Frames a second; the number is the code that MIDI timecode sends.</summary>
public enum TimecodeRate
{
    /// <summary>24 a second.</summary>
    Frames24 = 0,

    /// <summary>25 a second.</summary>
    Frames25 = 1,

    /// <summary>30000/1001 a second, with drop-frame labels.</summary>
    Frames30Drop = 2,

    /// <summary>30 a second.</summary>
    Frames30 = 3,
}
