namespace Mixscore.Desk;

/// <summary>What kind of number a control takes on the wire.</summary>
public enum WireNumber
{
    /// <summary>A 32-bit real number (OSC <c>f</c>).</summary>
    Real32,

    /// <summary>A 64-bit real number (OSC <c>d</c>).</summary>
    Real64,

    /// <summary>A whole number (OSC <c>i</c>, and all of MIDI).</summary>
    Whole,
}
