namespace Mixscore.Live;

/// <summary>How sure a clock is of where the piece is.</summary>
public enum ClockState
{
    /// <summary>It has not said anything yet.</summary>
    Waiting,

    /// <summary>It runs.</summary>
    Running,

    /// <summary>Nothing has come for a while; it is taken to go on as it did.</summary>
    Carrying,

    /// <summary>Nothing has come for longer than that; the place is held.</summary>
    Held,

    /// <summary>It said that it stands, and where.</summary>
    Stopped,
}
