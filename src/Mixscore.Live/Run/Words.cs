namespace Mixscore.Live;

/// <summary>The words that logs, screens and the wire use.</summary>
public static class Words
{
    /// <summary>Who holds a fader: <c>planned</c>, <c>in hand</c>, <c>returning</c>.</summary>
    public static string Of(Holder holder) => holder switch
    {
        Holder.InHand => "in hand",
        Holder.Returning => "returning",
        _ => "planned",
    };

    /// <summary>A clock's state.</summary>
    public static string Of(ClockState state) => state switch
    {
        ClockState.Running => "running",
        ClockState.Carrying => "carrying on",
        ClockState.Held => "held",
        ClockState.Stopped => "stopped",
        _ => "waiting",
    };

    /// <summary>Whether the piece is under way.</summary>
    public static string Of(RunPhase phase) => phase switch
    {
        RunPhase.Running => "running",
        RunPhase.Stopped => "stopped",
        _ => "waiting",
    };

    /// <summary>What a run is of two.</summary>
    public static string Of(SpareRole role) => role == SpareRole.Follows ? "follows" : "performs";

    /// <summary>Why a feed counts as gone.</summary>
    public static string Of(DropCause cause) => cause switch
    {
        DropCause.Noise => "noise",
        DropCause.Told => "told",
        _ => "silent",
    };
}
