namespace Mixscore.Live;

/// <summary>What can reach a run from outside.</summary>
public enum RunEventKind
{
    /// <summary>A desk reports a value.</summary>
    Desk,

    /// <summary>A desk's wire is open, or no longer.</summary>
    Wire,

    /// <summary>The clock from outside said something.</summary>
    Clock,

    /// <summary>Begin.</summary>
    Start,

    /// <summary>Stop.</summary>
    Stop,

    /// <summary>Stay on the bar.</summary>
    Stay,

    /// <summary>Go on.</summary>
    Release,

    /// <summary>Go elsewhere at the next barline.</summary>
    Jump,

    /// <summary>Take a source to a gain.</summary>
    Take,

    /// <summary>Take a source where it stands, or move it by so many dB.</summary>
    Move,

    /// <summary>Hand a source back.</summary>
    Back,

    /// <summary>Set what is added to the plan.</summary>
    Offset,

    /// <summary>Take all where they stand.</summary>
    HoldAll,

    /// <summary>Hand all back.</summary>
    AllBack,

    /// <summary>Send from now on.</summary>
    Arm,

    /// <summary>Send nothing from now on.</summary>
    Disarm,

    /// <summary>A source's feed is there, or is gone.</summary>
    Link,

    /// <summary>A note for the log.</summary>
    Note,

    /// <summary>Another run says where it is.</summary>
    Twin,

    /// <summary>Perform instead of the one that is followed.</summary>
    TakeOver,
}
