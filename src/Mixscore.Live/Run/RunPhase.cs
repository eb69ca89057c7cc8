namespace Mixscore.Live;

/// <summary>Whether the piece is under way.</summary>
public enum RunPhase
{
    /// <summary>Not yet.</summary>
    Waiting,

    /// <summary>It is.</summary>
    Running,

    /// <summary>It was stopped.</summary>
    Stopped,
}
