using System.Diagnostics;

namespace Mixscore.Outside.Tests;

/// <summary>Programs that we did not write. Their tests run where <c>MIXSCORE_OUTSIDE=1</c>, as <c>tests/run</c> sets it, and fail there if a program is missing.</summary>
internal static partial class Outside
{
    internal const string Why = "checks by other programs run in tests/run, which sets MIXSCORE_OUTSIDE=1";

    internal static bool IsWanted => Environment.GetEnvironmentVariable("MIXSCORE_OUTSIDE") == "1";

    internal sealed record Ended(int Code, string Output, string Error);

    /// <summary>Runs a program to its end. No shell, no input.</summary>
    internal static Ended Run(string program, params string[] arguments) => Run(program, arguments, watch: null);

    /// <summary>Runs a program to its end and looks at it every few milliseconds while it runs.</summary>
    internal static Ended Run(string program, string[] arguments, Action<Process>? watch)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        start.Environment["NO_COLOR"] = "1";
        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} did not start");
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        if (watch is not null)
            while (!process.WaitForExit(5)) Watch(process, watch);
        process.WaitForExit();
        return new Ended(process.ExitCode, output.Result, error.Result);
    }

    private static void Watch(Process process, Action<Process> watch)
    {
        try
        {
            watch(process);
        }
        catch (InvalidOperationException) when (process.HasExited)
        {
            // It ended between the look at the clock and the look at it.
        }
    }

    /// <summary>Runs the program under test, as its user does.</summary>
    internal static Ended Mixscore(params string[] arguments) =>
        Run("dotnet", [Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), .. arguments]);
}
