namespace Mixscore.Planning;

/// <summary>Why a source cannot be kept within its level.</summary>
public enum Because
{
    /// <summary>It arrives too quiet: the gain that it needs lies over the top of the fader.</summary>
    TooQuiet,

    /// <summary>It arrives too loud: the gain that it needs lies under the bottom of the fader.</summary>
    TooLoud,

    /// <summary>The fader would have to move faster than the limit.</summary>
    TooFast,

    /// <summary>What is asked bends within a beat, and moves are straight from beat to beat.</summary>
    TooNarrow,

    /// <summary>The engineer pinned the ride there.</summary>
    Pinned,

    /// <summary>The fader is off on both sides and there is no beat between on which it could be open.</summary>
    NoRoom,
}
