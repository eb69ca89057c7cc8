namespace Mixscore.Live;

/// <summary>Who moves a source's fader.</summary>
public enum Holder
{
    /// <summary>The plan.</summary>
    Planned,

    /// <summary>The engineer.</summary>
    InHand,

    /// <summary>The plan again, on the way back to it.</summary>
    Returning,
}
