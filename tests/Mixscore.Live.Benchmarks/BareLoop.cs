using System.Diagnostics;
using System.Runtime.InteropServices;

namespace Mixscore.Live.Benchmarks;

/// <summary>The peer: a thread that does nothing but sleep to absolute times, 300 µs short of them, and spin the rest.</summary>
internal static class BareLoop
{
    internal static List<double> Lateness(TimeSpan span)
    {
        var late = new List<double>((int)(span / RunSettings.Tick) + 1000);
        var thread = new Thread(() =>
        {
            var start = Stopwatch.GetTimestamp();
            for (var tick = 1L; tick * RunSettings.Tick < span; tick++)
            {
                var due = start + (long)(tick * RunSettings.Tick.TotalSeconds * Stopwatch.Frequency);
                Sleep(due - (Stopwatch.Frequency * 3 / 10_000));
                while (Stopwatch.GetTimestamp() < due) Thread.SpinWait(20);
                late.Add(Stopwatch.GetElapsedTime(due).TotalSeconds);
            }
        })
        { Priority = ThreadPriority.Highest };
        thread.Start();
        thread.Join();
        return late;
    }

    private static void Sleep(long until)
    {
        if (!OperatingSystem.IsLinux())
        {
            var left = Stopwatch.GetElapsedTime(Stopwatch.GetTimestamp(), until) - TimeSpan.FromMilliseconds(2);
            if (left > TimeSpan.Zero) Thread.Sleep(left);
            return;
        }
        var time = new TimeSpec { Seconds = (nint)(until / 1_000_000_000), Nanoseconds = (nint)(until % 1_000_000_000) };
        while (until > Stopwatch.GetTimestamp() && clock_nanosleep(1, 1, in time, IntPtr.Zero) == 4)
        {
        }
    }

    [StructLayout(LayoutKind.Sequential)]
    private struct TimeSpec
    {
        internal nint Seconds;
        internal nint Nanoseconds;
    }

    [DllImport("libc"), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int clock_nanosleep(int clock, int flags, in TimeSpec time, IntPtr left);
}
