using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Osc;

namespace Mixscore.Outside.Tests;

/// <summary>Tests in real time, beside which nothing else may run: a program that waits for the processor is silent, as one that has ended.</summary>
[CollectionDefinition(nameof(RealTime), DisableParallelization = true)]
public sealed class RealTime;

/// <summary>Two programs and a desk to practise on, in real time, with this test as the network between them.</summary>
[Collection(nameof(RealTime))]
public sealed class SpareTests(DemoRun demo)
{
    // The first is killed while it plays: its spare sends half a second later, from where the faders are. The first, begun anew by the
    // same command, is the spare.
    [Fact]
    public void The_spare_takes_over_from_one_that_is_killed()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var hall = new Hall(demo);
        using var first = new PerformTests.Watcher(Outside.FreePort());
        using var second = new PerformTests.Watcher(Outside.FreePort());
        var one = hall.Perform(0, first, "--arm");
        try
        {
            Assert.True(first.Wait(TimeSpan.FromSeconds(30)));
            using var two = hall.Perform(1, second, "--spare-of", $"127.0.0.1:{first.Port}");
            Assert.True(second.Wait(TimeSpan.FromSeconds(30)));
            Assert.True(SpinWait.SpinUntil(() => first.Role == "performs" && second.Role == "follows", TimeSpan.FromSeconds(5)));
            first.Send(new OscMessage("/mixscore/start", "40"));
            first.Send(new OscMessage("/mixscore/take", "north.voice", -12f));
            Thread.Sleep(4_000);
            Assert.Equal(0, hall.Sent(1));
            one.Kill();
            var killed = Stopwatch.StartNew();
            Assert.True(SpinWait.SpinUntil(() => hall.Sent(1) > 0, TimeSpan.FromSeconds(30)), "the spare never sent");
            TestContext.Current.SendDiagnosticMessage($"the spare sent {killed.ElapsedMilliseconds} ms after the first was killed");
            Assert.InRange(killed.ElapsedMilliseconds, 200, 30_000);
            Assert.True(SpinWait.SpinUntil(() => second.Role == "performs", TimeSpan.FromSeconds(5)));
            Assert.Equal(("in hand", -12f), (second.Holder("north.voice"), (float)Math.Round(second.Db("north.voice"), 1)));

            first.Forget();
            one.Dispose();
            one = hall.Perform(0, first, "--arm");
            Assert.True(first.Wait(TimeSpan.FromSeconds(30)));
            Assert.True(SpinWait.SpinUntil(() => first.Role == "follows", TimeSpan.FromSeconds(5)), "the first did not become the spare");
            Assert.Equal(first.Seconds, second.Seconds, 0.2);
            var before = hall.Sent(0);
            Thread.Sleep(1_000);
            Assert.Equal(before, hall.Sent(0));
        }
        finally
        {
            one.Dispose();
        }
    }

    // The two cannot hear each other, but both the desk: the first goes on alone.
    [Fact]
    public void Cut_from_each_other_the_first_goes_on_alone()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var hall = new Hall(demo);
        using var first = new PerformTests.Watcher(Outside.FreePort());
        using var second = new PerformTests.Watcher(Outside.FreePort());
        using var between = new Wire(first.Port);
        using var one = hall.Perform(0, first, "--arm");
        Assert.True(first.Wait(TimeSpan.FromSeconds(30)));
        using var two = hall.Perform(1, second, "--spare-of", $"127.0.0.1:{between.Port}");
        Assert.True(second.Wait(TimeSpan.FromSeconds(30)));
        first.Send(new OscMessage("/mixscore/start", "40"));
        Assert.True(SpinWait.SpinUntil(() => second.Role == "follows" && second.Seconds > 0, TimeSpan.FromSeconds(10)));
        between.IsCut = true;
        Thread.Sleep(5_000);
        Assert.Equal(0, hall.Sent(1));
        Assert.Equal("follows", second.Role);
    }

    /// <summary>A desk that reports to both, on wires that note who sent what.</summary>
    private sealed class Hall : IDisposable
    {
        private const string Meter = "\n  meter: { address: \"/strip/{strip}/meter\", type: f, off: 0.0, law: [[-80, 0.1], [0, 1.0]] }\n";
        private readonly PerformTests.Copy[] _copies;
        private readonly Outside.Running _desk;
        private readonly UdpClient _in = new(new IPEndPoint(IPAddress.Loopback, 0));
        private readonly UdpClient _reports = new(new IPEndPoint(IPAddress.Loopback, 0));
        private readonly Dictionary<int, int> _sent = [];
        private readonly List<int> _senders = [];
        private readonly int[] _listens = [Outside.FreePort(), Outside.FreePort()];

        internal Hall(DemoRun demo)
        {
            var own = Outside.FreePort();
            _copies = [new(demo), new(demo)];
            // A desk that sends meters need not be asked for a sign of life, which would count as something sent.
            var map = File.ReadAllText(demo.PathOf("hall-osc.desk.yaml")).TrimEnd() + Meter;
            string Map(int to, int listen) => map.Replace(":9000", $":{to}", StringComparison.Ordinal).Replace(":9001", $":{listen}", StringComparison.Ordinal);
            for (var e = 0; e < 2; e++) File.WriteAllText(Path.Combine(_copies[e].Folder, "hall-osc.desk.yaml"), Map(PortOf(_in), _listens[e]));
            var desk = Path.Combine(_copies[0].Folder, "desk.desk.yaml");
            File.WriteAllText(desk, Map(own, PortOf(_reports)));
            _desk = new Outside.Running("dotnet", [Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), "practice-desk", "--map", desk]);
            _ = CarryAsync(_in, [own], isCounted: true);
            _ = CarryAsync(_reports, _listens, isCounted: false);
        }

        internal Outside.Running Perform(int end, PerformTests.Watcher watcher, params string[] more) => new("dotnet", [
            Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), "perform", _copies[end].Folder, "--desk", Path.Combine(_copies[end].Folder, "hall-osc.desk.yaml"),
            "--no-page", "--count-in", "0", "--control", $"udp://127.0.0.1:{watcher.Port}", .. more]);

        /// <summary>How many datagrams the desk was sent by the program that sent first, and by all others.</summary>
        internal int Sent(int end)
        {
            lock (_sent) return _sent.Where(pair => (pair.Key == _senders.FirstOrDefault()) == (end == 0)).Sum(pair => pair.Value);
        }

        public void Dispose()
        {
            _desk.Dispose();
            _in.Dispose();
            _reports.Dispose();
            foreach (var copy in _copies) copy.Dispose();
        }

        private async Task CarryAsync(UdpClient from, int[] to, bool isCounted)
        {
            try
            {
                while (true)
                {
                    var packet = await from.ReceiveAsync();
                    if (isCounted)
                    {
                        lock (_sent)
                        {
                            if (!_senders.Contains(packet.RemoteEndPoint.Port)) _senders.Add(packet.RemoteEndPoint.Port);
                            _sent[packet.RemoteEndPoint.Port] = _sent.GetValueOrDefault(packet.RemoteEndPoint.Port) + 1;
                        }
                    }
                    foreach (var port in to) await from.SendAsync(packet.Buffer, new IPEndPoint(IPAddress.Loopback, port));
                }
            }
            catch (Exception problem) when (problem is ObjectDisposedException or SocketException)
            {
                // The test is over.
            }
        }
    }

    /// <summary>The wire between one program and the control port of the other, both ways.</summary>
    private sealed class Wire : IDisposable
    {
        private readonly UdpClient _near = new(new IPEndPoint(IPAddress.Loopback, 0));
        private readonly UdpClient _far = new(new IPEndPoint(IPAddress.Loopback, 0));
        private IPEndPoint? _caller;

        internal Wire(int port)
        {
            _ = CarryAsync(_near, packet =>
            {
                _caller = packet.RemoteEndPoint;
                _far.Send(packet.Buffer, new IPEndPoint(IPAddress.Loopback, port));
            });
            _ = CarryAsync(_far, packet =>
            {
                if (_caller is { } caller) _near.Send(packet.Buffer, caller);
            });
        }

        internal int Port => PortOf(_near);

        internal bool IsCut { get; set; }

        public void Dispose()
        {
            _near.Dispose();
            _far.Dispose();
        }

        private async Task CarryAsync(UdpClient from, Action<UdpReceiveResult> carry)
        {
            try
            {
                while (true)
                {
                    var packet = await from.ReceiveAsync();
                    if (!IsCut) carry(packet);
                }
            }
            catch (Exception problem) when (problem is ObjectDisposedException or SocketException)
            {
                // The test is over.
            }
        }
    }

    private static int PortOf(UdpClient client) => ((IPEndPoint)client.Client.LocalEndPoint!).Port;
}
