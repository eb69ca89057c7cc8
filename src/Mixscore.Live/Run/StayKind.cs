namespace Mixscore.Live;

/// <summary>How the run stays where it is until released.</summary>
public enum StayKind
{
    /// <summary>It does not.</summary>
    None,

    /// <summary>It plays one bar over and over.</summary>
    Loop,

    /// <summary>It stands still.</summary>
    Hold,
}
