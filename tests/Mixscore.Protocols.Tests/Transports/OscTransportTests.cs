using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Tests.Osc;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

public sealed class OscTransportTests
{
    private static readonly OscBundle Night = new(new OscTimeTag(1UL << 40), OscGen.Oscillator, new OscBundle(new OscTimeTag(1UL << 41), OscGen.Foo));

    [Fact]
    public void A_datagram_arrives_as_it_was_sent_and_can_be_answered()
    {
        using var arrivals = new Arrivals<byte[]>();
        using var answers = new Arrivals<byte[]>();
        OscUdp? desk = null;
        using var there = desk = new OscUdp(Waiting.AnyPort, (packet, from) =>
        {
            arrivals.Add(packet.ToArray());
            desk!.Send(packet, from);
        });
        using var here = new OscUdp(Waiting.AnyPort, (packet, _) => answers.Add(packet.ToArray()));
        Assert.True(here.Send(OscCodec.Encode(Night), there.Local));
        Assert.Equal(OscCodec.Encode(Night), arrivals.Next());
        Assert.Equal(OscCodec.Encode(Night), answers.Next());
        Assert.Equal(1, there.Received);
    }

    [Fact]
    public void A_malformed_datagram_is_counted_by_its_name_and_dropped()
    {
        using var arrivals = new Arrivals<byte[]>();
        using var there = new OscUdp(Waiting.AnyPort, (packet, _) => arrivals.Add(packet.ToArray()));
        using var here = new OscUdp(Waiting.AnyPort, (_, _) => { });
        here.Send(OscGen.Ascii("nonsense"), there.Local);
        here.Send(OscGen.Ascii("/ab"), there.Local);
        here.Send([], there.Local);
        here.Send(OscCodec.Encode(OscGen.Foo), there.Local);
        Assert.Equal(OscCodec.Encode(OscGen.Foo), arrivals.Next());
        Assert.Equal("Empty 1, NotAligned 1, NotOsc 1", there.Faults.ToString());
        Assert.Equal((3, 1, 0), (there.Faults.Total, there.Faults.Of(OscFault.NotOsc), arrivals.Left));
    }

    [Fact]
    public void A_port_in_use_is_told_in_words()
    {
        using var first = new OscUdp(Waiting.AnyPort, (_, _) => { });
        var problem = Assert.Throws<IOException>(() => new OscUdp(first.Local, (_, _) => { }));
        Assert.Contains($"{first.Local}", problem.Message, StringComparison.Ordinal);
        Assert.Throws<IOException>(() => OscTcpConnection.Connect(first.Local, OscFraming.Length, (_, _) => { }, TimeSpan.FromSeconds(5)));
    }

    [Fact]
    public void After_dispose_a_port_is_free_and_sending_is_refused()
    {
        var first = new OscUdp(Waiting.AnyPort, (_, _) => { });
        first.Dispose();
        Assert.False(first.Send(OscCodec.Encode(Night), first.Local));
        Assert.Equal(1, first.Unsent);
        using var second = new OscUdp(first.Local, (_, _) => { });
        Assert.Equal(first.Local, second.Local);
    }

    [Theory]
    [InlineData(OscFraming.Length), InlineData(OscFraming.Slip)]
    public void A_stream_carries_packets_both_ways(OscFraming framing)
    {
        using var arrivals = new Arrivals<byte[]>();
        using var answers = new Arrivals<byte[]>();
        using var listener = new OscTcpListener(Waiting.AnyPort, framing, (packet, _) => arrivals.Add(packet.ToArray()));
        using var first = OscTcpConnection.Connect(listener.Local, framing, (packet, _) => answers.Add(packet.ToArray()), TimeSpan.FromSeconds(5));
        using var second = OscTcpConnection.Connect(listener.Local, framing, (packet, _) => answers.Add(packet.ToArray()), TimeSpan.FromSeconds(5));
        // Blobs of END and ESC, so that SLIP has something to do; long ones, so that a packet takes several reads.
        var packets = Enumerable.Range(1, 40).Select(i => OscCodec.Encode(new OscMessage("/b", OscArgument.Of(Enumerable.Repeat((byte)(0xBF + (i % 29)), i * i * 16).ToArray().AsSpan())))).ToArray();
        foreach (var packet in packets) Assert.True(first.Send(packet));
        Assert.Equal(packets, arrivals.Next(packets.Length));
        Waiting.Until(() => listener.Connections.Count == 2);
        Assert.Equal(2, listener.Send(OscCodec.Encode(Night)));
        Assert.Equal([OscCodec.Encode(Night), OscCodec.Encode(Night)], answers.Next(2));
        first.Dispose();
        Waiting.Until(() => listener.Connections.Count == 1);
        Assert.False(first.Send(packets[0]));
    }

    [Fact]
    public void A_wrong_length_closes_its_connection_alone()
    {
        using var arrivals = new Arrivals<byte[]>();
        using var listener = new OscTcpListener(Waiting.AnyPort, OscFraming.Length, (packet, _) => arrivals.Add(packet.ToArray()));
        using var good = OscTcpConnection.Connect(listener.Local, OscFraming.Length, (_, _) => { }, TimeSpan.FromSeconds(5));
        using var bad = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        bad.Connect(listener.Local);
        bad.Send([0, 0, 0, 3, 1, 2, 3]);
        Waiting.Until(() => listener.Faults.Of(OscFault.ElementSize) == 1);
        Assert.Equal(0, bad.Receive(new byte[4]));
        good.Send(OscCodec.Encode(Night));
        Assert.Equal(OscCodec.Encode(Night), arrivals.Next());
    }

    [Fact]
    public void A_spoilt_frame_of_slip_is_counted_and_the_stream_goes_on()
    {
        using var arrivals = new Arrivals<byte[]>();
        using var listener = new OscTcpListener(Waiting.AnyPort, OscFraming.Slip, (packet, _) => arrivals.Add(packet.ToArray()));
        using var bad = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        bad.Connect(listener.Local);
        bad.Send([0xC0, 0xDB, 0x00, 0xC0]);
        bad.Send(OscSlip.Frame(OscGen.Ascii("/abc")));
        bad.Send(OscSlip.Frame(OscCodec.Encode(Night)));
        Assert.Equal(OscCodec.Encode(Night), arrivals.Next());
        Assert.Equal("Truncated 1, Text 1", listener.Faults.ToString());
    }

    // Derived: the live path takes no memory once both ends are known.
    [Fact]
    public void Sending_a_datagram_takes_no_memory()
    {
        using var socket = new UdpClient(Waiting.AnyPort);
        using var here = new OscUdp(Waiting.AnyPort, (_, _) => { });
        var to = (IPEndPoint)socket.Client.LocalEndPoint!;
        var packet = OscCodec.Encode(Night);
        here.Send(packet, to);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 100; i++) here.Send(packet, to);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }
}
