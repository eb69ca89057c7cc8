using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>What a clock said, and when it was heard.</summary>
/// <param name="When">On the run's own time.</param>
/// <param name="At">Seconds into the score.</param>
/// <param name="Signal">Whether the sender moves on from there.</param>
public readonly record struct ClockPoint(TimeSpan When, Seconds At, ClockSignal Signal);

/// <summary>What a clock's word means.</summary>
public enum ClockSignal
{
    /// <summary>It is there now and moves on.</summary>
    Moving,

    /// <summary>It stands there, or is wound by hand.</summary>
    Placed,

    /// <summary>It stopped where it was.</summary>
    Stopped,
}
