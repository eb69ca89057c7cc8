using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using Mixscore.Desk.Tests.Map;
using Mixscore.Loudness;

namespace Mixscore.Desk.Tests.Wire;

public class DeskLinkTests
{
    public static TheoryData<string> Wires => [
        Maps.Osc,
        Maps.Osc.Replace("listen: udp://127.0.0.1:9001\n", "", StringComparison.Ordinal),
        Maps.Osc.Replace("udp://", "tcp://", StringComparison.Ordinal),
        Maps.Osc.Replace("udp://", "tcp+slip://", StringComparison.Ordinal),
        Maps.Midi,
        Maps.Midi.Replace("control: \"{strip - 1}\"", "nrpn: \"{strip + 300}\"", StringComparison.Ordinal),
        Maps.Midi.Replace("control: \"{strip - 1}\", bits: 14", "pitch-bend: true", StringComparison.Ordinal).Replace("channel: 1", "channel: \"{strip}\"", StringComparison.Ordinal),
        Maps.Midi.Replace("control: \"{strip - 1}\", bits: 14", "control: \"{strip + 31}\", bits: 7", StringComparison.Ordinal).Replace("[[-60, 800], [0, 12288], [+10, 16383]]", "[[-60, 1], [0, 100], [+10, 127]]", StringComparison.Ordinal),
    ];

    // Both ends of every kind of wire on this machine: what one sends the other has, strip by strip and value by value.
    [Theory, MemberData(nameof(Wires))]
    public void What_one_end_sends_the_other_has(string text)
    {
        var map = Local(text);
        var strips = map.Fader.Control.ProblemOf(40) is null ? 40 : 16;
        using var atDesk = new BlockingCollection<StripValue>();
        using var atEngineer = new BlockingCollection<StripValue>();
        using var desk = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, value => atDesk.Add(value, CancellationToken.None));
        using var engineer = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, value => atEngineer.Add(value, CancellationToken.None));
        Assert.True(SpinWait.SpinUntil(() => engineer.IsReady, TimeSpan.FromSeconds(10)));
        StripValue[] moves = [.. Enumerable.Range(1, strips).Select(strip => new StripValue(strip, StripPart.Fader, map.Fader.Law.Sent(Decibels.Of(-strip - 0.3))))];
        Assert.True(engineer.Send(moves));
        Assert.Equal(moves, Next(atDesk, strips));
        Assert.True(SpinWait.SpinUntil(() => desk.IsReady, TimeSpan.FromSeconds(10)));
        StripValue[] answers = [.. moves.Reverse()];
        Assert.True(desk.Send(answers));
        Assert.Equal(answers, Next(atEngineer, strips));
        Assert.Equal("", desk.Faults + engineer.Faults);
    }

    [Fact]
    public void Feedback_and_meters_have_addresses_of_their_own()
    {
        var map = Local(Maps.Osc.Replace("off: 0.0,", "off: 0.0, feedback: { address: \"/report/{strip}\" },", StringComparison.Ordinal)
            + "\n  meter: { address: \"/strip/{strip}/meter\", off: 0, law: [[-80, 0.1], [0, 1]] }\n");
        using var atEngineer = new BlockingCollection<StripValue>();
        using var desk = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, _ => { });
        using var engineer = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, value => atEngineer.Add(value, CancellationToken.None));
        StripValue[] report = [new(2, StripPart.Fader, 0.5), new(2, StripPart.Meter, 0.25), new(2, StripPart.Mute, 1)];
        Assert.True(desk.Send(report));
        Assert.Equal(report, Next(atEngineer, 3));
        Assert.False(engineer.Has(StripPart.Meter, 2));
        Assert.True(desk.Has(StripPart.Meter, 2));
    }

    // A desk is switched off and on again: what is sent meanwhile is said not to have gone, and after it all goes on.
    [Theory]
    [InlineData("tcp://"), InlineData("tcp+slip://")]
    public void A_desk_that_goes_away_and_comes_back_is_reached_again(string scheme)
    {
        var map = Local(Maps.Osc.Replace("udp://", scheme, StringComparison.Ordinal));
        using var atDesk = new BlockingCollection<StripValue>();
        using var atEngineer = new BlockingCollection<StripValue>();
        var desk = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, value => atDesk.Add(value, CancellationToken.None));
        using var engineer = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, value => atEngineer.Add(value, CancellationToken.None));
        StripValue move = new(3, StripPart.Fader, 0.5);
        Assert.True(engineer.Send(move));
        Assert.Equal(move, Next(atDesk, 1)[0]);
        desk.Dispose();
        Assert.True(SpinWait.SpinUntil(() => !engineer.IsReady, TimeSpan.FromSeconds(10)));
        Assert.False(engineer.Send(move));
        Assert.Equal(1, engineer.Opened);

        using var again = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, value => atDesk.Add(value, CancellationToken.None));
        Assert.True(SpinWait.SpinUntil(() => engineer.IsReady && again.IsReady, TimeSpan.FromSeconds(10)));
        Assert.Equal(2, engineer.Opened);
        Assert.True(engineer.Send(move));
        Assert.Equal(move, Next(atDesk, 1)[0]);
        Assert.True(again.Send(move));
        Assert.Equal(move, Next(atEngineer, 1)[0]);
    }

    // 96 faders at every tick, over datagrams, a stream and a session.
    [Theory]
    [InlineData(Maps.Osc, "udp://"), InlineData(Maps.Osc, "tcp://"), InlineData(Maps.Osc, "tcp+slip://"), InlineData(Maps.Midi, "")]
    public void Sending_takes_no_memory(string text, string scheme)
    {
        var map = Local(scheme.Length > 0 ? text.Replace("udp://", scheme, StringComparison.Ordinal) : text);
        using var desk = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, _ => { });
        using var engineer = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, _ => { });
        Assert.True(SpinWait.SpinUntil(() => engineer.IsReady, TimeSpan.FromSeconds(10)));
        var values = new StripValue[map.Protocol == DeskProtocol.Osc ? 96 : 32];
        for (var warm = 0; warm < 3; warm++)
        {
            Ticks(50);
            Assert.True(SpinWait.SpinUntil(() => engineer.Behind.Controls == 0, TimeSpan.FromSeconds(10)));
        }
        var before = GC.GetAllocatedBytesForCurrentThread();
        Ticks(200);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());

        void Ticks(int count)
        {
            for (var tick = 0; tick < count; tick++)
            {
                for (var i = 0; i < values.Length; i++) values[i] = new StripValue(i + 1, StripPart.Fader, map.Protocol == DeskProtocol.Osc ? (tick % 100) / 100.0 : tick + i);
                engineer.Send(values);
            }
        }
    }

    // A raw device, here a pipe that gives back what it is given: 32 faders at every tick of two seconds are more than it carries.
    [Fact]
    public void A_raw_device_is_never_given_more_than_the_wire_carries_and_takes_no_memory()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "MIDI devices are no files here");
        var path = Path.Combine(Path.GetTempPath(), "mixscore-wire-" + Guid.NewGuid().ToString("n")[..8]);
        using (var make = System.Diagnostics.Process.Start("mkfifo", path)) make.WaitForExit();
        try
        {
            var map = DeskMapReader.Parse(Maps.Midi.Replace("rtp-midi://127.0.0.1:5004", "midi:" + path, StringComparison.Ordinal), "hall.desk.yaml")[0];
            var time = new StepTime();
            var heard = new double[33];
            using var link = DeskLink.Open(map, DeskEnd.Engineer, time, value => heard[value.Strip] = value.Value);
            var values = new StripValue[32];
            Ticks(5);
            var before = GC.GetAllocatedBytesForCurrentThread();
            Ticks(100);
            Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
            Assert.InRange(link.PeakBytes, 2900, 3125);
            Assert.True(link.Behind is { Controls: > 0, Worst.Value: > 0 });
            for (var i = 0; i < 20; i++) time.Step(TimeSpan.FromMilliseconds(20));   // the rest follows on its own
            Assert.Equal(0, link.Behind.Controls);
            SpinWait.SpinUntil(() => values.All(value => heard[value.Strip] == value.Value), TimeSpan.FromSeconds(10));
            Assert.Equal(values.Select(value => value.Value), heard[1..]);

            void Ticks(int count)
            {
                for (var tick = 0; tick < count; tick++)
                {
                    for (var i = 0; i < values.Length; i++) values[i] = new StripValue(i + 1, StripPart.Fader, ((tick * 97) + (i * 331)) % 16384);
                    link.Send(values);
                    time.Step(TimeSpan.FromMilliseconds(20));
                }
            }
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void A_port_in_use_is_told_in_words()
    {
        var map = Local(Maps.Osc);
        using var desk = DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, _ => { });
        Assert.Contains($"{map.To.Port}", Assert.Throws<IOException>(() => DeskLink.Open(map, DeskEnd.Desk, TimeProvider.System, _ => { })).Message, StringComparison.Ordinal);
    }

    // The issue of safety: whatever the law, no value of the nudge is louder than −20 dB.
    [Theory]
    [InlineData(-60, 10), InlineData(-25, 10), InlineData(-90, -40), InlineData(-10, 10), InlineData(-20, 0)]
    public void A_nudge_never_goes_above_minus_20(double lowest, double highest)
    {
        var law = new FaderLaw([Pieces.P(lowest, 3), Pieces.P(highest, 127)], 0, WireNumber.Whole);
        var nudge = StripNudge.Of(law);
        Assert.Equal(lowest > -20, nudge.Count == 0);
        Assert.All(nudge, gain => Assert.True(law.ToGain(law.Sent(gain))!.Value.Value <= -20 + 1e-6));
        if (lowest < -30) Assert.True(nudge.Min() < nudge[0] && nudge[^1] == nudge[0]);
    }

    internal static DeskMap Local(string text)
    {
        var to = FreePair();
        var listen = FreePair();
        while (Math.Abs(listen - to) < 2) listen = FreePair();
        return DeskMapReader.Parse(text.Replace(":9000", $":{to}", StringComparison.Ordinal).Replace(":5004", $":{to}", StringComparison.Ordinal).Replace(":9001", $":{listen}", StringComparison.Ordinal), "hall.desk.yaml")[0];
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

    private static StripValue[] Next(BlockingCollection<StripValue> values, int count) =>
        [.. Enumerable.Range(0, count).Select(_ => values.TryTake(out var value, TimeSpan.FromSeconds(10)) ? value : throw new TimeoutException("nothing came in ten seconds"))];
}
