using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Tells where the piece is. Used by the run's thread alone; time is passed in and never goes back.</summary>
public abstract class RunClock
{
    /// <summary>Begins at a place, or begins to follow.</summary>
    /// <param name="at">Where the engineer wants to begin.</param>
    /// <param name="countIn">How long is counted before it; 0 for none.</param>
    /// <param name="now">The run's time.</param>
    internal abstract void Start(Seconds at, Seconds countIn, TimeSpan now);

    /// <summary>Ends that.</summary>
    internal abstract void Stop(TimeSpan now);

    /// <summary>Takes what came from outside; a clock of one's own takes nothing.</summary>
    internal abstract void Take(ClockPoint point);

    /// <summary>Where it is.</summary>
    internal abstract ClockReading Read(TimeSpan now);

    /// <summary>Whether it says itself where the piece is, so that a place to start at is only a place to wait at.</summary>
    internal abstract bool IsOutside { get; }
}
