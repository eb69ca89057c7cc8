using System.Buffers.Binary;
using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed partial class OscCodecTests
{
    private const string Bundle = "2362756e646c6500 0000000000000005";

    // Derived from the grammar of OSC 1.0; offsets counted by hand.
    [Theory]
    [InlineData("", OscFault.Empty, 0)]
    [InlineData("2f61", OscFault.NotAligned, 2)]
    [InlineData("61620000", OscFault.NotOsc, 0)]
    [InlineData("23626164 00000000 00000000 00000000", OscFault.NotOsc, 0)]
    [InlineData("2362756e646c6500 00000000", OscFault.Truncated, 0)]
    [InlineData("2f616263", OscFault.Text, 0)]
    [InlineData("2f610001 2c000000", OscFault.Padding, 3)]
    [InlineData("2f610000 2c690000", OscFault.Truncated, 8)]
    [InlineData("2f610000 2c680000 00000001", OscFault.Truncated, 8)]
    [InlineData("2f610000 2c666666", OscFault.Text, 4)]
    [InlineData("2f610000 2c000000 00000001", OscFault.Trailing, 8)]
    [InlineData("2f610000 2c730000 61616161", OscFault.Text, 8)]
    [InlineData("2f610000 2c730000 ff000000", OscFault.Text, 8)]
    [InlineData("2f610000 2c620000 ffffffff", OscFault.BlobSize, 8)]
    [InlineData("2f610000 2c620000 7fffffff", OscFault.BlobSize, 8)]
    [InlineData("2f610000 2c620000 00000001 01000100", OscFault.Padding, 14)]
    [InlineData("2f610000 2c5b0000", OscFault.ArrayBrackets, 6)]
    [InlineData("2f610000 2c5d0000", OscFault.ArrayBrackets, 5)]
    [InlineData(Bundle + "0000", OscFault.NotAligned, 18)]
    [InlineData(Bundle + "00000000", OscFault.ElementSize, 16)]
    [InlineData(Bundle + "fffffffc", OscFault.ElementSize, 16)]
    [InlineData(Bundle + "00000006 2f610000 2c000000", OscFault.ElementSize, 16)]
    [InlineData(Bundle + "00000008 2f610000", OscFault.ElementSize, 16)]
    [InlineData(Bundle + "00000010 2362756e646c6500 0000000000000004", OscFault.TimeTagOrder, 28)]
    [InlineData(Bundle + "00000004 61000000", OscFault.NotOsc, 20)]
    public void A_malformed_packet_is_named_with_its_byte(string hex, OscFault fault, int offset)
    {
        Assert.False(OscCodec.TryDecode(OscGen.Bytes(hex), out var packet, out var problem));
        Assert.Null(packet);
        Assert.Equal(new OscProblem(fault, offset), problem);
    }

    // OSC 1.0, "OSC Type Tag String": a message with a tag that is not known is discarded; the rest of the bundle is not.
    [Theory]
    [InlineData("2f610000 2c690000 00000001", "2f620000 2c780000 00000001", OscFault.UnknownTag, 41)]
    [InlineData("2f610000 2c690000 00000001", "2f235d00 2c690000 00000001", OscFault.Address, 36)]
    public void A_message_that_cannot_be_understood_is_left_out_alone(string good, string odd, OscFault fault, int offset)
    {
        var bytes = OscGen.Bytes(Bundle + "0000000c" + good + "0000000c" + odd + "0000000c" + good);
        Assert.True(OscCodec.TryDecode(bytes, out var packet, out var problem));
        Assert.Equal(new OscBundle(new OscTimeTag(5), new OscMessage("/a", 1), new OscMessage("/a", 1)), packet);
        Assert.Equal(new OscProblem(fault, offset), problem);
    }

    [Fact]
    public void A_lone_message_with_an_unknown_tag_is_no_packet()
    {
        Assert.False(OscCodec.TryDecode(OscGen.Bytes("2f610000 2c697800 00000001"), out _, out var problem));
        Assert.Equal(new OscProblem(OscFault.UnknownTag, 6), problem);
    }

    [Fact]
    public void Limits_are_checked()
    {
        var three = OscCodec.Encode(new OscBundle(default, OscGen.Foo, OscGen.Foo, OscGen.Foo));
        AssertFault(OscFault.TooMany, three, new OscLimits { Elements = 2 });
        AssertFault(OscFault.TooLong, three, new OscLimits { Bytes = three.Length - 4 });
        AssertFault(OscFault.TooMany, OscCodec.Encode(OscGen.Foo), new OscLimits { Arguments = 4 });
        var deep = new OscBundle(default, new OscBundle(default, new OscBundle(default)));
        AssertFault(OscFault.TooDeep, OscCodec.Encode(deep), new OscLimits { Depth = 2 });
        var nested = OscArgument.Array(OscArgument.Array(OscArgument.Array()));
        AssertFault(OscFault.TooDeep, OscCodec.Encode(new OscMessage("/a", nested)), new OscLimits { Depth = 2 });
        Assert.True(OscCodec.Check(three, new OscLimits { Elements = 3, Bytes = three.Length }).IsNone);
    }

    [Fact]
    public void What_could_not_be_read_back_cannot_be_made()
    {
        Assert.Throws<ArgumentException>(() => new OscMessage("no/slash"));
        Assert.Throws<ArgumentException>(() => new OscMessage("/open["));
        Assert.Throws<ArgumentException>(() => OscArgument.Of("a\0b"));
        Assert.Throws<ArgumentException>(() => OscArgument.Of("\ud800"));
        Assert.Throws<ArgumentException>(() => new OscBundle(new OscTimeTag(9), new OscBundle(new OscTimeTag(8))));
        var bundle = new OscBundle(default);
        for (var i = 1; i < OscLimits.DeepestNesting; i++) bundle = new OscBundle(default, bundle);
        Assert.Throws<ArgumentException>(() => new OscBundle(default, bundle));
    }

    // Fuzz: bytes of good packets, changed, cut and grown. Any answer is right that is an answer.
    [Fact]
    public void Changed_packets_are_read_or_refused_but_never_thrown_at()
    {
        var random = new Random(20250);
        var seeds = OscGen.Packet.Array[40].Single(_ => true, "0N0XIzNsQ0O2").Select(OscCodec.Encode).ToArray();
        var read = 0;
        var count = Fuzz.Count(100_000);
        for (var i = 0; i < count; i++)
        {
            var bytes = Mutate(seeds[random.Next(seeds.Length)], random);
            if (OscCodec.TryDecode(bytes, out var packet, out var problem))
            {
                read++;
                Assert.True(OscCodec.TryDecode(OscCodec.Encode(packet), out var again, out _));
                Assert.Equal(packet, again);
            }
            else Assert.True(!problem.IsNone && problem.Offset >= 0 && problem.Offset <= bytes.Length);
        }
        Assert.InRange(read, count / 100, count - (count / 100));
    }

    private static byte[] Mutate(byte[] bytes, Random random)
    {
        var copy = bytes.ToArray();
        for (var changes = random.Next(1, 4); changes > 0 && copy.Length > 0; changes--)
        {
            var at = random.Next(copy.Length);
            switch (random.Next(6))
            {
                case 0: copy[at] ^= (byte)(1 << random.Next(8)); break;
                case 1: copy[at] = (byte)random.Next(256); break;
                case 2: copy[at] = OscGen.Ascii("[]TFNIifsbhtdScrm,/#*?{}")[random.Next(24)]; break;
                case 3: copy = copy[..(at & ~3)]; break;
                case 4: copy = [.. copy[..(at & ~3)], .. copy[(at & ~3)..], .. copy[(at & ~3)..]]; break;
                default:
                    if (copy.Length >= 4) BinaryPrimitives.WriteInt32BigEndian(copy.AsSpan((at & ~3) % (copy.Length - 3)), random.Next(-8, 64));
                    break;
            }
        }
        return copy;
    }

    private static void AssertFault(OscFault fault, byte[] bytes, OscLimits limits)
    {
        Assert.False(OscCodec.TryDecode(bytes, out _, out var problem, limits));
        Assert.Equal(fault, problem.Fault);
    }
}
