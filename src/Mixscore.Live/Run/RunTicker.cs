using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Mixscore.Live;

/// <summary>
/// Ticks a run from one thread on an absolute schedule: each tick is due a whole number of ticks after the first, whatever came
/// late before. It sleeps until shortly before and spins the rest. Ticks that passed while the machine did not run are left
/// out and counted.
/// </summary>
public sealed class RunTicker : IDisposable
{
    private static readonly TimeSpan LateFrom = TimeSpan.FromMilliseconds(5);
    private readonly SpinMargin _margin = new();
    private readonly LiveRun _run;
    private readonly ILogSink? _log;
    private readonly Thread _thread;
    private readonly long _start;
    private readonly Action<TimeSpan>? _onLateness;
    private long _late;
    private long _lost;
    private volatile bool _stopped;

    /// <summary>Begins to tick.</summary>
    /// <param name="run">What to tick.</param>
    /// <param name="log">Takes late ticks; <c>null</c> for nobody.</param>
    /// <param name="zero">The run's time zero, as a timestamp of <see cref="Stopwatch"/>; 0 for now.</param>
    /// <param name="onLateness">Takes how late each tick began and is called on the run's thread, for measuring; <c>null</c> for nobody.</param>
    public RunTicker(LiveRun run, ILogSink? log = null, long zero = 0, Action<TimeSpan>? onLateness = null)
    {
        (_run, _log, _onLateness) = (run, log, onLateness);
        _start = zero == 0 ? Stopwatch.GetTimestamp() : zero;
        _thread = new Thread(Loop) { IsBackground = true, Name = "run", Priority = ThreadPriority.Highest };
        _thread.Start();
    }

    /// <summary>The run's time.</summary>
    public TimeSpan Now => Stopwatch.GetElapsedTime(_start);

    /// <summary>Ticks that began more than 5 ms late.</summary>
    public long Late => Volatile.Read(ref _late);

    /// <summary>Ticks that were left out, since the next was due already.</summary>
    public long Lost => Volatile.Read(ref _lost);

    /// <summary>What went wrong in the first tick that failed; <c>null</c> while none has. The next ticks go on.</summary>
    public Exception? Failure { get; private set; }

    /// <summary>Stops ticking.</summary>
    public void Dispose()
    {
        _stopped = true;
        _thread.Join();
    }

    private void Loop()
    {
        AskForPriority();
        for (var tick = (Now.Ticks / RunSettings.Tick.Ticks) + 1; !_stopped; tick++)
        {
            var due = TimeSpan.FromTicks(tick * RunSettings.Tick.Ticks);
            WaitUntil(due);
            var late = Now - due;
            _onLateness?.Invoke(late);
            if (late > LateFrom)
            {
                Interlocked.Increment(ref _late);
                var left = (long)(late / RunSettings.Tick);
                tick += left;
                Interlocked.Add(ref _lost, left);
                due = TimeSpan.FromTicks(tick * RunSettings.Tick.Ticks);
                _log?.Add(new LogEntry(LogKind.Late, due, new Score.Seconds(_run.LastAt)) { Number = late.TotalSeconds });
            }
            Tick(due);
        }
    }

    private void Tick(TimeSpan due)
    {
        try
        {
            _run.Tick(due);
        }
        catch (Exception failure) when (Failure is null)
        {
            Failure = failure;
            _log?.Add(new LogEntry(LogKind.Trouble, due, new Score.Seconds(_run.LastAt)) { Text = $"a tick failed, the next go on: {failure.Message}" });
        }
        catch (Exception)
        {
            // Faders stand open, and whoever looks has been told: the next tick may do better.
        }
    }

    /// <summary>Asks that the calling thread not be kept waiting by any of lower priority (SCHED_FIFO, POSIX.1-2017); where the system does not allow it nothing changes.</summary>
    public static void AskForPriority()
    {
        if (OperatingSystem.IsLinux()) _ = sched_setscheduler(0, Fifo, in FifoPriority);
    }

    /// <summary>Gives it back: a thread that does not keep up must not keep all others waiting as well.</summary>
    public static void GiveUpPriority()
    {
        var none = 0;
        if (OperatingSystem.IsLinux()) _ = sched_setscheduler(0, Other, in none);
    }

    private void WaitUntil(TimeSpan due)
    {
        var target = _start + (due.Ticks * Stopwatch.Frequency / TimeSpan.TicksPerSecond);
        if (OperatingSystem.IsLinux()) _margin.Woken(SleepUntil(target - _margin.Nanoseconds));
        else if (Stopwatch.GetElapsedTime(Stopwatch.GetTimestamp(), target) is { TotalMilliseconds: > 2.3 } left) Thread.Sleep(left - TimeSpan.FromMilliseconds(2.3));
        while (Stopwatch.GetTimestamp() < target) Thread.SpinWait(20);
    }

    // On Linux a Stopwatch's timestamp is CLOCK_MONOTONIC in nanoseconds, and this sleeps to an absolute one (POSIX.1-2017, clock_nanosleep) and tells by how much it was late.
    private static long SleepUntil(long nanoseconds)
    {
        var time = new TimeSpec { Seconds = (nint)(nanoseconds / 1_000_000_000), Nanoseconds = (nint)(nanoseconds % 1_000_000_000) };
        while (nanoseconds > Stopwatch.GetTimestamp() && clock_nanosleep(Monotonic, Absolute, in time, IntPtr.Zero) == Interrupted)
        {
        }
        return Math.Max(0, Stopwatch.GetTimestamp() - nanoseconds);
    }

    private const int Fifo = 1;
    private const int Other = 0;
    private static readonly int FifoPriority = 20;
    private const int Monotonic = 1;
    private const int Absolute = 1;
    private const int Interrupted = 4;

    [StructLayout(LayoutKind.Sequential)]
    private struct TimeSpec
    {
        internal nint Seconds;
        internal nint Nanoseconds;
    }

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int sched_setscheduler(int thread, int policy, in int priority);

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int clock_nanosleep(int clock, int flags, in TimeSpec time, IntPtr left);
}
