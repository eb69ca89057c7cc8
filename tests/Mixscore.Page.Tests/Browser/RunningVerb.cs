using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;
using System.Text.RegularExpressions;

namespace Mixscore.Page.Tests;

/// <summary>A verb of the program in a process of its own, as an engineer starts it.</summary>
internal sealed class RunningVerb : IAsyncDisposable
{
    private readonly Process _process;
    private readonly List<string> _lines = [];
    private readonly Lock _gate = new();

    private RunningVerb(Process process)
    {
        _process = process;
        process.OutputDataReceived += (_, line) =>
        {
            if (line.Data is null) return;
            lock (_gate) _lines.Add(line.Data);
        };
        process.BeginOutputReadLine();
    }

    internal static RunningVerb Begin(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, RedirectStandardInput = true, UseShellExecute = false };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "mixscore.dll"));
        foreach (var argument in arguments) start.ArgumentList.Add(argument);
        return new RunningVerb(Process.Start(start)!);
    }

    /// <summary>Runs a verb to its end.</summary>
    internal static async Task RunAsync(params string[] arguments)
    {
        await using var verb = Begin(arguments);
        await verb._process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, verb._process.ExitCode);
    }

    /// <summary>Waits for a line, and gives what stands behind its beginning.</summary>
    internal async Task<string> SaysAsync(string beginning)
    {
        for (var tries = 0; tries < 3000; tries++)
        {
            lock (_gate)
                if (_lines.Find(line => line.Contains(beginning, StringComparison.Ordinal)) is { } found)
                    return found[(found.IndexOf(beginning, StringComparison.Ordinal) + beginning.Length)..];
            Assert.False(_process.HasExited, $"it ended without saying {beginning}: {string.Join('\n', _lines)}");
            await Task.Delay(20, TestContext.Current.CancellationToken);
        }
        throw new TimeoutException($"it did not say {beginning}: {string.Join('\n', _lines)}");
    }

    /// <summary>Whether a line has come that matches.</summary>
    internal bool HasSaid([StringSyntax(StringSyntaxAttribute.Regex)] string pattern)
    {
        lock (_gate) return _lines.Exists(line => Regex.IsMatch(line, pattern));
    }

    internal async Task TellAsync(string line)
    {
        await _process.StandardInput.WriteLineAsync(line);
        await _process.StandardInput.FlushAsync();
    }

    /// <summary>As when the machine takes it away.</summary>
    internal async Task KillAsync()
    {
        if (!_process.HasExited) _process.Kill(entireProcessTree: true);
        await _process.WaitForExitAsync(CancellationToken.None);
    }

    public async ValueTask DisposeAsync()
    {
        await KillAsync();
        _process.Dispose();
    }
}
