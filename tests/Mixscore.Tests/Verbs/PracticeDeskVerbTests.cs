using System.Collections.Concurrent;
using System.Diagnostics;
using System.IO.Pipelines;
using System.Net;
using System.Net.Sockets;
using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Screen;

namespace Mixscore.Tests.Verbs;

public class PracticeDeskVerbTests
{
    // The whole of it on this machine: a move is echoed, a grabbed fader reports its hand and withstands moves, a script ends it.
    [Theory]
    [InlineData("hall-osc.desk.yaml"), InlineData("hall-midi.desk.yaml")]
    public async Task It_echoes_moves_and_can_be_grabbed_by_a_script(string example)
    {
        using var file = new TemporaryMap(Repository.PathOf("examples", example), FreePair(), FreePair());
        var map = DeskMapReader.Read(file.Path)[0];
        using var heard = new BlockingCollection<StripValue>();
        var script = new Pipe();
        await using var orders = new StreamWriter(script.Writer.AsStream()) { AutoFlush = true };
        using var input = new StreamReader(script.Reader.AsStream());
        using var output = new StringWriter();
        using var error = new StringWriter();
        var verb = CommandLine.RunAsync(["practice-desk", "--map", file.Path, "--late", "5"], Terminal.Of(TextWriter.Synchronized(output), error, input), TestContext.Current.CancellationToken);
        using var engineer = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, value => heard.Add(value, CancellationToken.None));
        Assert.True(SpinWait.SpinUntil(() => engineer.IsReady, TimeSpan.FromSeconds(20)));
        // A datagram sent before the desk has opened its port is gone; so the move is made until it is answered.
        StripValue echo = default;
        Assert.True(SpinWait.SpinUntil(() => engineer.Send(new StripValue(3, StripPart.Fader, map.Fader.Law.Sent(Decibels.Of(-12)))) && heard.TryTake(out echo, 200), TimeSpan.FromSeconds(20)), error.ToString());
        Assert.Equal((3, StripPart.Fader), (echo.Strip, echo.Part));
        Assert.Equal(-12, map.Fader.Law.ToGain(echo.Value)!.Value.Value, 0.1);
        await orders.WriteLineAsync("grab 3 -6");
        StripValue hand;
        do Assert.True(heard.TryTake(out hand, TimeSpan.FromSeconds(10)));
        while (Math.Abs(map.Fader.Law.ToGain(hand.Value)!.Value.Value + 12) < 0.1);
        Assert.Equal(-6, map.Fader.Law.ToGain(hand.Value)!.Value.Value, 0.1);
        await orders.WriteLineAsync("dance\nshow\nquit");
        Assert.Equal(0, await verb.WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken));
        Assert.Matches(@"strip 3 -(5\.9|6\.0)\d dB in hand", output.ToString());
        Assert.Contains("\"dance\" is no order", output.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_ends_with_its_input()
    {
        using var file = new TemporaryMap(Repository.PathOf("examples", "hall-osc.desk.yaml"), FreePair());
        var ended = await SmallProject.Run("practice-desk", "--map", file.Path);
        Assert.Equal(0, ended.Code);
        Assert.Contains("0 moves", ended.Output);
    }

    // As a person has it: a process, ended by the end of its input or told to stop. (SIGTERM: a shell's background jobs ignore SIGINT.)
    [Theory]
    [InlineData(false), InlineData(true)]
    public async Task As_a_process_it_ends_with_its_input_or_when_told_to_stop(bool told)
    {
        Assert.SkipWhen(told && OperatingSystem.IsWindows(), "it is told by a Unix signal");
        using var file = new TemporaryMap(Repository.PathOf("examples", "hall-osc.desk.yaml"), FreePair());
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), "practice-desk", "--map", file.Path])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        };
        using var process = Process.Start(start)!;
        Assert.Contains("practising", await process.StandardOutput.ReadLineAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        if (!told) process.StandardInput.Close();
        else
            using (var kill = Process.Start("kill", ["-TERM", $"{process.Id}"])) await kill.WaitForExitAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(20), TestContext.Current.CancellationToken);
        Assert.Equal(0, process.ExitCode);
        Assert.Contains("0 moves", await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_port_in_use_is_not_available()
    {
        using var taken = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        using var file = new TemporaryMap(Repository.PathOf("examples", "hall-osc.desk.yaml"), ((IPEndPoint)taken.Client.LocalEndPoint!).Port);
        Assert.Equal(3, (await SmallProject.Run("practice-desk", "--map", file.Path)).Code);
        Assert.Equal(2, (await SmallProject.Run("practice-desk", "--map", file.Path, "--places", "1")).Code);
    }

    private static int FreePair()
    {
        for (var left = 50; ; left--)
        {
            using var first = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
            var port = ((IPEndPoint)first.Client.LocalEndPoint!).Port;
            try
            {
                using var second = new UdpClient(new IPEndPoint(IPAddress.Loopback, port + 1));
                return port;
            }
            catch (SocketException) when (left > 0)
            {
                // Taken; another pair will do.
            }
        }
    }
}
