using System.Collections.Concurrent;
using System.Globalization;
using System.Net;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;

namespace Mixscore.Outside.Tests.Wire;

/// <summary>liblo's oscdump prints what we send, and what its oscsend sends is understood, over datagrams and over a stream.</summary>
public class OscTransportTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    [Theory]
    [InlineData("udp"), InlineData("tcp")]
    public void Oscdump_prints_what_we_send(string carrier)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var port = Outside.FreePort();
        using var dump = new Outside.Running("oscdump", "-L", $"osc.{carrier}://:{port}");
        using var udp = new OscUdp(new IPEndPoint(IPAddress.Loopback, 0), (_, _) => { });
        OscTcpConnection? tcp = null;
        var to = new IPEndPoint(IPAddress.Loopback, port);
        bool Send(OscPacket packet) => carrier == "udp" ? udp.Send(OscCodec.Encode(packet), to) : tcp!.Send(OscCodec.Encode(packet));

        // Until the other program has opened its port.
        if (carrier == "tcp") Assert.True(SpinWait.SpinUntil(() => (tcp = TryConnect(to)) is not null, Patience));
        var ready = Enumerable.Range(0, 100).Any(_ => Send(new OscMessage("/ready")) && dump.Line(TimeSpan.FromMilliseconds(100)) is not null);
        Assert.True(ready, "oscdump printed nothing");

        var random = new Random(4);
        // It prints six decimals: all digits of a float that is a whole number of 64ths, the leading ones of others.
        var values = Enumerable.Range(0, 200).Select(i => i % 2 == 0 ? random.Next(-10_000, 10_000) / 64f : (float)(random.NextDouble() * 2)).ToArray();
        Send(new OscBundle(OscTimeTag.Immediate, [.. values.Select((value, i) => (OscPacket)new OscMessage($"/strip/{i + 1}/fader", value))]));
        Send(new OscMessage("/all", 7, "a b", OscArgument.Of(true), OscArgument.Of(false), OscArgument.Nil, OscArgument.Impulse, OscArgument.Of(1L << 40), OscArgument.Of(0.25), OscArgument.Character('q')));
        var lines = new List<string>();
        while (lines.Count < values.Length + 1)
            if (dump.Line() is var line && !line.Contains("/ready", StringComparison.Ordinal)) lines.Add(line[(line.IndexOf(' ', StringComparison.Ordinal) + 1)..]);
        Assert.Equal(values.Select((value, i) => string.Create(CultureInfo.InvariantCulture, $"/strip/{i + 1}/fader f {(double)value:F6}")), lines.Take(values.Length));
        Assert.Equal("/all isTFNIhdc 7 \"a b\" #T #F Nil Infinitum 1099511627776 0.250000 'q'", lines[^1]);
        tcp?.Dispose();
    }

    [Theory]
    [InlineData("udp"), InlineData("tcp")]
    public void Oscsend_is_understood_to_the_last_digit(string carrier)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var arrived = new BlockingCollection<OscPacket>();
        void Take(ReadOnlySpan<byte> packet, IPEndPoint from)
        {
            if (OscCodec.TryDecode(packet, out var read, out _)) arrived.Add(read, CancellationToken.None);
        }

        var any = new IPEndPoint(IPAddress.Loopback, 0);
        using var udp = new OscUdp(any, Take);
        using var tcp = new OscTcpListener(any, OscFraming.Length, Take);
        var url = $"osc.{carrier}://127.0.0.1:{(carrier == "udp" ? udp.Local : tcp.Local).Port}";
        var random = new Random(9);
        for (var i = 0; i < 12; i++)
        {
            var value = (float)((random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-6, 6)));
            // Nine digits tell every float from its neighbours.
            var ended = Outside.Run("oscsend", url, "/strip/3/fader", "fihsTFNI", value.ToString("G9", CultureInfo.InvariantCulture), "-5", "1099511627776", "a b");
            Assert.True(ended.Code == 0, ended.Error);
            Assert.True(arrived.TryTake(out var packet, Patience), "nothing came");
            Assert.Equal(new OscMessage("/strip/3/fader", value, -5, OscArgument.Of(1L << 40), "a b", OscArgument.Of(true), OscArgument.Of(false), OscArgument.Nil, OscArgument.Impulse), packet);
        }
        Assert.Equal(0, udp.Faults.Total + tcp.Faults.Total);
    }

    private static OscTcpConnection? TryConnect(IPEndPoint to)
    {
        try
        {
            return OscTcpConnection.Connect(to, OscFraming.Length, (_, _) => { }, Patience);
        }
        catch (IOException)
        {
            return null;
        }
    }
}
