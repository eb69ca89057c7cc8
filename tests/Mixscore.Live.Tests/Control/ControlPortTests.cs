using System.Net;
using System.Net.Sockets;
using System.Reactive.Concurrency;
using Mixscore.Protocols.Osc;

namespace Mixscore.Live.Tests.Control;

/// <summary>The control port in virtual time: what is told when is the scheduler's; only the way over the loopback is real.</summary>
public sealed class ControlPortTests : IDisposable
{
    private readonly HistoricalScheduler _time = new();
    private readonly LiveRun _run = new(Pieces.Three(), new OwnClick(), [new RunDesk(Pieces.Osc, [1, 2, 3], _ => true)], new RunSettings { CountInBars = 0 });
    private readonly UdpClient _watcher = new(new IPEndPoint(IPAddress.Loopback, 0));
    private readonly List<string> _problems = [];
    private readonly ControlPort _port;

    public ControlPortTests()
    {
        _port = new ControlPort(_run, new IPEndPoint(IPAddress.Loopback, 0), () => TimeSpan.Zero, _time, () => null);
        _port.Problems.Subscribe(_problems.Add);
        _run.Tick(TimeSpan.Zero);
    }

    public void Dispose()
    {
        _port.Dispose();
        _watcher.Dispose();
    }

    // The contract: answered at once, and then at least ten times a second.
    [Fact]
    public void Who_watches_is_answered_at_once_and_then_at_least_ten_times_a_second()
    {
        Send("/mixscore/watch");
        Assert.Equal("/mixscore/position", Next());
        for (var i = 0; i < 3; i++) Assert.Equal("/mixscore/source", Next());
        Assert.Equal("/mixscore/run", Next());
        // A marker of our own behind what a second told: loopback keeps the order.
        _time.AdvanceBy(TimeSpan.FromSeconds(1));
        Send("/mixscore/take", "nobody", -3f);
        var told = new List<string>();
        while (told.LastOrDefault() != "/mixscore/problem") told.Add(Next());
        Assert.InRange(told.Count(address => address == "/mixscore/position"), 10, 13);
        Assert.Equal(3 * told.Count(address => address == "/mixscore/position"), told.Count(address => address == "/mixscore/source"));
    }

    [Fact]
    public void Who_does_not_watch_is_told_nothing_but_what_was_wrong()
    {
        _time.AdvanceBy(TimeSpan.FromSeconds(10));
        Send("/mixscore/take", "nobody", -3f);
        Assert.Equal("/mixscore/problem", Next());
        Assert.Contains("nobody", Assert.Single(_problems), StringComparison.Ordinal);
    }

    [Fact]
    public void Closed_it_tells_nobody_and_its_stream_has_ended()
    {
        var hasEnded = false;
        _port.Problems.Subscribe(_ => { }, () => hasEnded = true);
        Send("/mixscore/watch");
        for (var i = 0; i < 5; i++) Next();
        _port.Dispose();
        Assert.True(hasEnded);
        _time.AdvanceBy(TimeSpan.FromSeconds(10));
        Assert.Equal(0, _watcher.Available);
    }

    private void Send(string address, params OscArgument[] arguments) => _watcher.Send(OscCodec.Encode(new OscMessage(address, arguments)), _port.Local);

    /// <summary>The address of the next message; one that does not come fails the test within five seconds.</summary>
    private string Next()
    {
        _watcher.Client.ReceiveTimeout = 5000;
        IPEndPoint? from = null;
        var packet = _watcher.Receive(ref from);
        var reader = new OscReader(packet);
        Assert.True(reader.NextMessage());
        return System.Text.Encoding.ASCII.GetString(reader.Address);
    }
}
