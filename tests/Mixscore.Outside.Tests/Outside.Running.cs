using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Mixscore.Outside.Tests;

internal static partial class Outside
{
    /// <summary>The folder of this project's sources, where programs for the other end lie.</summary>
    internal static string Sources { get; } = Path.Combine(Root(), "tests", "Mixscore.Outside.Tests");

    /// <summary>Runs a program to its end with bytes as its input.</summary>
    internal static (int Code, byte[] Output, string Error) RunWith(byte[] input, string program, params string[] arguments)
    {
        using var process = Start(program, arguments);
        var error = process.StandardError.ReadToEndAsync();
        using var output = new MemoryStream();
        var reading = process.StandardOutput.BaseStream.CopyToAsync(output);
        process.StandardInput.BaseStream.Write(input);
        process.StandardInput.Close();
        reading.Wait();
        process.WaitForExit();
        return (process.ExitCode, output.ToArray(), error.Result);
    }

    /// <summary>A port that is free now, for a program that cannot be told to take any.</summary>
    internal static int FreePort()
    {
        using var socket = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.Client.LocalEndPoint!).Port;
    }

    /// <summary>A program that runs until it is no longer needed; what it prints can be waited for.</summary>
    internal sealed class Running : IDisposable
    {
        private readonly Process _process;
        private readonly BlockingCollection<string> _lines = [];
        private bool _isDisposed;

        internal Running(string program, params string[] arguments)
        {
            _process = Start(program, arguments);
            _process.OutputDataReceived += (_, line) =>
            {
                if (line.Data is not null) _lines.Add(line.Data);
            };
            _process.BeginOutputReadLine();
        }

        internal StreamWriter Input => _process.StandardInput;

        internal string? Line(TimeSpan patience) => _lines.TryTake(out var line, patience) ? line : null;

        internal string Line() => Line(TimeSpan.FromSeconds(10)) ?? throw new TimeoutException("the other program printed nothing in ten seconds");

        internal int? EndsWithin(TimeSpan patience) => _process.WaitForExit(patience) ? _process.ExitCode : null;

        /// <summary>Ends it as <c>kill -9</c> does.</summary>
        internal void Kill()
        {
            _process.Kill();
            Dispose();
        }

        public void Dispose()
        {
            if (_isDisposed) return;
            _isDisposed = true;
            if (!_process.HasExited) _process.Kill(entireProcessTree: true);
            _process.WaitForExit();
            _process.Dispose();
            _lines.Dispose();
        }
    }

    private static Process Start(string program, string[] arguments) =>
        Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true })
        ?? throw new InvalidOperationException($"{program} did not start");

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Mixscore.sln"))) return folder.FullName;
        throw new DirectoryNotFoundException("no Mixscore.sln above " + AppContext.BaseDirectory);
    }
}
