using System.Net;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;

namespace Mixscore.Outside.Tests;

/// <summary>The demo in a folder of its own, performed by the program, armed, against the program's own desk to practise on.</summary>
internal sealed class DemoNight : IDisposable
{
    private readonly DemoCopy _copy;
    private readonly Outside.Running _desk;
    private readonly Outside.Running _run;
    private readonly OscUdp _udp;
    private readonly IPEndPoint _control = new(IPAddress.Loopback, Outside.FreePort());
    private double _seconds = double.NaN;

    internal DemoNight(DemoRun demo)
    {
        _copy = new DemoCopy(demo);
        var map = Path.Combine(Folder, "hall-osc.desk.yaml");
        File.WriteAllText(map, File.ReadAllText(demo.PathOf("hall-osc.desk.yaml"))
            .Replace(":9000", $":{Outside.FreePort()}", StringComparison.Ordinal).Replace(":9001", $":{Outside.FreePort()}", StringComparison.Ordinal));
        var program = Path.Combine(AppContext.BaseDirectory, "mixscore.dll");
        _desk = new Outside.Running("dotnet", program, "practice-desk", "--map", map);
        _run = new Outside.Running("dotnet", program, "perform", Folder, "--desk", map, "--no-page", "--count-in", "0", "--arm", "--control", $"udp://{_control}");
        _udp = new OscUdp(new IPEndPoint(IPAddress.Loopback, 0), (packet, _) =>
        {
            if (OscCodec.TryDecode(packet, out var decoded, out OscProblem _) && decoded is OscMessage { Address: "/mixscore/position" } message) Volatile.Write(ref _seconds, message.Arguments[1].AsFloat32());
        });
        Assert.True(SpinWait.SpinUntil(() =>
        {
            Send("/mixscore/watch");
            Thread.Sleep(20);
            return !double.IsNaN(Volatile.Read(ref _seconds));
        }, TimeSpan.FromSeconds(30)), "the run does not answer");
    }

    internal string Folder => _copy.Folder;

    /// <summary>Tells the desk to practise on a line, such as <c>grab 5 -3 over 0.2</c>.</summary>
    internal void Desk(string order)
    {
        _desk.Input.WriteLine(order);
        _desk.Input.Flush();
    }

    internal void Send(string address, params OscArgument[] arguments) => _udp.Send(OscCodec.Encode(new OscMessage(address, arguments)), _control);

    /// <summary>Waits until the run is so far into the score, in real time.</summary>
    internal bool WaitFor(double seconds) => SpinWait.SpinUntil(() =>
    {
        Thread.Sleep(5);
        return Volatile.Read(ref _seconds) >= seconds;
    }, TimeSpan.FromSeconds(120));

    /// <summary>Ends the night and gives its log.</summary>
    internal string End()
    {
        _run.Input.WriteLine("quit");
        _run.EndsWithin(TimeSpan.FromSeconds(10));
        return Directory.GetFiles(Path.Combine(Folder, "log")).Single();
    }

    public void Dispose()
    {
        _run.Dispose();
        _desk.Dispose();
        _udp.Dispose();
        _copy.Dispose();
    }
}
