namespace Mixscore.Desk;

/// <summary>Which control of a strip.</summary>
public enum StripPart
{
    /// <summary>The fader.</summary>
    Fader,

    /// <summary>The switch that lets it sound or not.</summary>
    Mute,

    /// <summary>The level that the desk reports.</summary>
    Meter,
}

/// <summary>Which end of the wire speaks.</summary>
public enum DeskEnd
{
    /// <summary>The end that sends moves and hears what the desk reports.</summary>
    Engineer,

    /// <summary>The desk itself.</summary>
    Desk,
}

/// <summary>The value of one control of one strip, as the wire has it.</summary>
/// <param name="Strip">From 1.</param>
/// <param name="Part">Which control.</param>
/// <param name="Value">The number on the wire.</param>
public readonly record struct StripValue(int Strip, StripPart Part, double Value);
