using System.Diagnostics;

namespace Mixscore.Live;

/// <summary>The machine's own time, which nobody sets: it tells a run that is taken up again how long the program was gone.</summary>
public static class MachineTime
{
    /// <summary>How long the machine has been up.</summary>
    public static TimeSpan Uptime => Stopwatch.GetElapsedTime(0);

    /// <summary>Which start of the machine this is; empty where it does not say.</summary>
    public static string Boot
    {
        get
        {
            try
            {
                return File.ReadAllText("/proc/sys/kernel/random/boot_id").Trim();
            }
            catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException)
            {
                return "";
            }
        }
    }
}
