namespace Mixscore.Score;

/// <summary>What a sign says about the order in which bars are played.</summary>
public enum JumpKind
{
    /// <summary>A place to come back to (the segno).</summary>
    Segno,

    /// <summary>A place to leap to from To Coda (the coda).</summary>
    Coda,

    /// <summary>Back to the beginning.</summary>
    DaCapo,

    /// <summary>Back to the segno.</summary>
    DalSegno,

    /// <summary>After a jump back: on to the coda.</summary>
    ToCoda,

    /// <summary>After a jump back: the end.</summary>
    Fine,
}

/// <summary>What ends the playing after a jump back, where its words say so.</summary>
public enum JumpUntil
{
    /// <summary>The words do not say.</summary>
    Unsaid,

    /// <summary>al Fine.</summary>
    Fine,

    /// <summary>al Coda.</summary>
    Coda,
}

/// <summary>One sign.</summary>
/// <param name="Kind">What it says.</param>
/// <param name="Name">The token that pairs a sign with its target; empty where none is given.</param>
/// <param name="Passes">The passes on which it is obeyed, from <c>time-only</c>; empty where the usual ones hold.</param>
/// <param name="Until">What its words say of the end, for a jump back.</param>
/// <param name="WordsOnly">Whether it stands only in words or signs meant for the eye, not in the file's marks for playing.</param>
public sealed record Jump(
    JumpKind Kind,
    string Name = "",
    IReadOnlyList<int>? Passes = null,
    JumpUntil Until = JumpUntil.Unsaid,
    bool WordsOnly = false)
{
    /// <summary>Whether it stood at the very end of the bar before, and is a target, so that it is the start of this one.</summary>
    public bool StoodBefore { get; init; }
}
