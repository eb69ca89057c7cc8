namespace Mixscore.Live;

/// <summary>
/// How long before a tick is due its thread asks to be woken; the rest it spins. A machine that wakes it late is asked earlier: an
/// idle core of a shared machine is given back by the millisecond. Calm machines are left their core again within some seconds.
/// </summary>
/// <remarks>Our own figures. The widest costs a tenth of one core.</remarks>
internal sealed class SpinMargin
{
    /// <summary>Nanoseconds on a machine that wakes in time.</summary>
    internal const long Least = 300_000;

    /// <summary>Nanoseconds at most.</summary>
    internal const long Most = 2_000_000;

    // Ticks of 20 ms: half of what is over the least is given up in about four seconds.
    private const long Calm = 300;

    /// <summary>Nanoseconds before the next tick at which to ask for waking.</summary>
    internal long Nanoseconds { get; private set; } = Least;

    /// <summary>Takes how late the thread was woken.</summary>
    /// <param name="late">Nanoseconds after the time that it asked for.</param>
    internal void Woken(long late)
    {
        var wanted = Math.Clamp(late + (late / 4), Least, Most);
        Nanoseconds = wanted >= Nanoseconds ? wanted : Nanoseconds - ((Nanoseconds - Least) / Calm);
    }
}
