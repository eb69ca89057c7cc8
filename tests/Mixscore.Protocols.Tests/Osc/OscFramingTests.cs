using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscFramingTests
{
    private static readonly Gen<(byte[][] Packets, int[] Cuts)> GenStream = Gen.Select(
        OscGen.Packet.Select(OscCodec.Encode).Array[0, 5], Gen.Int[1, 40].Array[1, 8], (packets, cuts) => (packets, cuts));

    // OSC 1.0, "OSC Packets": an int32 that gives the size, then the packet.
    [Fact]
    public void A_length_frame_begins_with_the_size() =>
        Assert.Equal("000000042F610000", Convert.ToHexString(OscLengthFraming.Frame(OscGen.Bytes("2f610000"))));

    [Fact]
    public void Length_frames_come_back_however_they_are_cut() => GenStream.Sample(stream =>
    {
        var reader = new OscLengthReader();
        var got = new List<byte[]>();
        foreach (var part in Cut([.. stream.Packets.SelectMany(packet => OscLengthFraming.Frame(packet))], stream.Cuts))
        {
            ReadOnlySpan<byte> input = part;
            while (reader.Read(ref input, out var packet)) got.Add(packet.ToArray());
            Assert.True(input.IsEmpty);
        }
        Assert.Equal(stream.Packets, got);
        return reader.IsBetweenPackets && reader.Position == stream.Packets.Sum(packet => packet.Length + 4L);
    });

    [Theory]
    [InlineData("fffffffc", OscFault.ElementSize)]
    [InlineData("00000006", OscFault.ElementSize)]
    [InlineData("00000044", OscFault.TooLong)]
    public void A_wrong_length_ends_the_stream(string hex, OscFault fault)
    {
        var reader = new OscLengthReader(longest: 64);
        ReadOnlySpan<byte> input = OscGen.Bytes("000000042f610000" + hex + "000000042f610000");
        Assert.True(reader.Read(ref input, out _));
        Assert.False(reader.Read(ref input, out _));
        Assert.Equal(fault, reader.Fault);
        Assert.Equal(8, reader.Position);
        input = OscGen.Bytes("000000042f610000");
        Assert.False(reader.Read(ref input, out _));
        Assert.True(input.IsEmpty);
    }

    // A length that is claimed takes no memory before the bytes arrive.
    [Fact]
    public void A_claimed_length_takes_no_memory()
    {
        var reader = new OscLengthReader(longest: 1 << 30);
        ReadOnlySpan<byte> input = OscGen.Bytes("40000000 00000000");
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.False(reader.Read(ref input, out _));
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 1024);
    }

    // OSC 1.1, section 4, END at both ends; escapes of RFC 1055. Derived: 01 C0 DB 02.
    [Fact]
    public void A_slip_frame_escapes_its_own_signs() =>
        Assert.Equal("C001DBDCDBDD02C0", Convert.ToHexString(OscSlip.Frame([0x01, 0xC0, 0xDB, 0x02])));

    [Fact]
    public void Slip_frames_come_back_however_they_are_cut() => GenStream.Sample(stream =>
    {
        var reader = new OscSlipReader();
        var got = new List<byte[]>();
        foreach (var part in Cut([.. stream.Packets.SelectMany(packet => OscSlip.Frame(packet))], stream.Cuts))
        {
            ReadOnlySpan<byte> input = part;
            while (reader.Read(ref input, out var packet)) got.Add(packet.ToArray());
        }
        Assert.Equal(stream.Packets, got);
        return reader.IsBetweenPackets && reader.Dropped == 0;
    });

    [Theory]
    [InlineData("C0 01DB02 C0 2f610000 C0", "a wrong escape")]
    [InlineData("C0 01DB C0 2f610000 C0", "an escape before END")]
    [InlineData("C0 0102030405060708090A C0 2f610000 C0", "too many bytes")]
    public void A_broken_slip_frame_is_dropped_alone(string hex, string because)
    {
        var reader = new OscSlipReader(longest: 8);
        ReadOnlySpan<byte> input = OscGen.Bytes(hex);
        Assert.True(reader.Read(ref input, out var packet), because);
        Assert.Equal("2F610000", Convert.ToHexString(packet));
        Assert.Equal(1, reader.Dropped);
    }

    [Fact]
    public void Random_bytes_never_trouble_the_stream_readers() => Gen.Byte.Array[0, 200].Sample(bytes =>
    {
        ReadOnlySpan<byte> forLength = bytes;
        ReadOnlySpan<byte> forSlip = bytes;
        var (length, slip) = (new OscLengthReader(64), new OscSlipReader(64));
        while (length.Read(ref forLength, out var packet)) Assert.InRange(packet.Length, 0, 64);
        while (slip.Read(ref forSlip, out var packet)) Assert.InRange(packet.Length, 1, 64);
        return forLength.IsEmpty && forSlip.IsEmpty;
    }, iter: Fuzz.Count(2_000));

    [Fact]
    public void A_destination_too_short_is_refused()
    {
        Assert.Throws<ArgumentException>(() => OscLengthFraming.Frame([1, 2, 3, 4], new byte[7]));
        Assert.Throws<ArgumentException>(() => OscSlip.Frame([0xC0], new byte[3]));
    }

    private static IEnumerable<byte[]> Cut(byte[] bytes, int[] cuts)
    {
        for (int at = 0, i = 0; at < bytes.Length; i++)
        {
            var size = Math.Min(cuts[i % cuts.Length], bytes.Length - at);
            yield return bytes[at..(at + size)];
            at += size;
        }
    }
}
