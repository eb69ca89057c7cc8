namespace Mixscore.Live;

/// <summary>What a line of a log tells.</summary>
public enum LogKind
{
    /// <summary>A run was begun: the date, the plan, the desks, the clock.</summary>
    Begin,

    /// <summary>It was taken up again after the program had ended.</summary>
    Resume,

    /// <summary>The program ended.</summary>
    End,

    /// <summary>The piece was begun.</summary>
    Start,

    /// <summary>It was stopped.</summary>
    Stop,

    /// <summary>The run stays.</summary>
    Stay,

    /// <summary>It goes on.</summary>
    Release,

    /// <summary>It will go elsewhere at the barline.</summary>
    Jump,

    /// <summary>Score and clock were set apart anew, by staying or jumping.</summary>
    Turn,

    /// <summary>Where the piece is, each second.</summary>
    Position,

    /// <summary>The clock's state has changed.</summary>
    Clock,

    /// <summary>A source was taken.</summary>
    Take,

    /// <summary>A hand moved.</summary>
    Hand,

    /// <summary>A source was handed back.</summary>
    Back,

    /// <summary>It is back on the plan.</summary>
    Planned,

    /// <summary>What is added to the plan.</summary>
    Offset,

    /// <summary>All were held.</summary>
    HoldAll,

    /// <summary>All were handed back.</summary>
    AllBack,

    /// <summary>Faders move from now on.</summary>
    Arm,

    /// <summary>No faders move from now on.</summary>
    Disarm,

    /// <summary>A feed is gone.</summary>
    Drop,

    /// <summary>A feed is back.</summary>
    Up,

    /// <summary>A desk is there, or is gone.</summary>
    Desk,

    /// <summary>Ticks came late or not at all.</summary>
    Late,

    /// <summary>A note by the engineer.</summary>
    Mark,

    /// <summary>Something in the run's surroundings is wrong.</summary>
    Trouble,

    /// <summary>Another run was heard, or this one and that changed places.</summary>
    Spare,
}
