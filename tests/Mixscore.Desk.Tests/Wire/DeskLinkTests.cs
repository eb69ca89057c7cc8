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
        var (to, listen) = (FreePair(), FreePair());
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
