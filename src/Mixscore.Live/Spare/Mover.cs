namespace Mixscore.Live;

/// <summary>Who moved a fader that this run does not move.</summary>
internal enum Mover
{
    /// <summary>It stands where it stood, or nobody can tell.</summary>
    Nobody,

    /// <summary>It went where the plan has it, or is on its way there: another run moved it.</summary>
    Other,

    /// <summary>It went elsewhere: a hand moved it.</summary>
    Hand,
}
