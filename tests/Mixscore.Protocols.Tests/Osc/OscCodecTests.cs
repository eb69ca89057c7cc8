using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed partial class OscCodecTests
{
    private const string OscillatorBytes = "2f6f7363696c6c61746f722f342f6672657175656e637900 2c660000 43dc0000";

    private const string FooBytes =
        "2f666f6f00000000 2c69697366660000 000003e8 ffffffff 68656c6c6f000000 3f9df3b6 40b5b22d";

    // OSC 1.0 specification, examples: /oscillator/4/frequency with the float 440.0, 32 bytes.
    [Fact]
    public void One_float_is_the_example_of_the_specification() => AssertBothWays(OscillatorBytes, OscGen.Oscillator);

    // OSC 1.0 specification, examples: /foo with 1000, -1, "hello", 1.234, 5.678, 40 bytes.
    [Fact]
    public void Five_arguments_are_the_example_of_the_specification() => AssertBothWays(FooBytes, OscGen.Foo);

    // Derived from the layout in OSC 1.0, "OSC Bundles": 96 bytes.
    [Fact]
    public void A_bundle_holds_each_message_behind_its_size() => AssertBothWays(
        "2362756e646c6500 0000000000000001 00000020" + OscillatorBytes + "00000028" + FooBytes,
        new OscBundle(OscTimeTag.Immediate, OscGen.Oscillator, OscGen.Foo));

    // OSC 1.0, "OSC Bundles": a bundle may hold no element.
    [Fact]
    public void An_empty_bundle_is_sixteen_bytes() =>
        AssertBothWays("2362756e646c6500 0000000000000002", new OscBundle(new OscTimeTag(2)));

    // OSC 1.0 specification, examples: "OSC" takes one NUL, "data" takes four.
    [Theory]
    [InlineData("OSC", "4f534300")]
    [InlineData("data", "6461746100000000")]
    public void Text_is_closed_by_one_to_four_nuls(string text, string bytes) =>
        AssertBothWays("2f610000 2c730000" + bytes, new OscMessage("/a", text));

    // OSC 1.0, "OSC Type Tag String" and the table of nonstandard types; bytes derived.
    [Fact]
    public void Every_type_has_its_bytes() => AssertBothWays(
        "2f740000" + "2c6962687464536372 6d54464e495b665d 000000" +
        "00000001" + "00000003 01020300" + "fffffffffffffffe" + "0000000100000000" + "3ff0000000000000" +
        "73796d00" + "00000061" + "11223344" + "00903c40" + "3f000000",
        new OscMessage("/t", 1, OscArgument.Of([1, 2, 3]), OscArgument.Of(-2L), OscArgument.Of(new OscTimeTag(1UL << 32)),
            OscArgument.Of(1.0), OscArgument.Symbol("sym"), OscArgument.Character('a'),
            OscArgument.Of(new OscColour(0x11, 0x22, 0x33, 0x44)), OscArgument.Of(new OscMidi(0, 0x90, 0x3c, 0x40)),
            OscArgument.Of(true), OscArgument.Of(false), OscArgument.Nil, OscArgument.Impulse, OscArgument.Array(0.5f)));

    // OSC 1.0 specification, examples of type tag strings.
    [Theory]
    [InlineData(",")]
    [InlineData(",f")]
    [InlineData(",iisfff")]
    [InlineData(",ibb")]
    public void Tag_strings_of_the_specification_are_made(string tags)
    {
        var arguments = tags.Skip(1).Select(tag => tag switch
        {
            'i' => OscArgument.Of(1),
            'f' => 1f,
            's' => "x",
            _ => OscArgument.Of([7]),
        });
        Assert.Equal(tags, OscText.Types(new OscMessage("/x", [.. arguments])));
    }

    // OSC 1.0, "OSC Message": a receiver should be robust in the case of a missing type tag string.
    [Theory]
    [InlineData("2f610000")]
    [InlineData("2f610000 00000001")]
    public void A_message_without_tags_has_no_arguments(string bytes)
    {
        Assert.True(OscCodec.TryDecode(OscGen.Bytes(bytes), out var packet, out var problem));
        Assert.Equal(new OscMessage("/a"), packet);
        Assert.True(problem.IsNone);
    }

    [Fact]
    public void Every_packet_comes_back_as_it_was() => OscGen.Packet.Sample(packet =>
        OscCodec.TryDecode(OscCodec.Encode(packet), out var back, out var problem)
        && packet.Equals(back) && problem.IsNone && packet.GetHashCode() == back.GetHashCode());

    [Fact]
    public void Every_packet_is_a_multiple_of_4_long_and_as_long_as_announced() => OscGen.Packet.Sample(packet =>
        OscCodec.Encode(packet).Length is var length && length % 4 == 0 && length == OscCodec.EncodedLength(packet));

    private static void AssertBothWays(string hex, OscPacket packet)
    {
        var bytes = OscGen.Bytes(hex);
        Assert.Equal(Convert.ToHexString(bytes), Convert.ToHexString(OscCodec.Encode(packet)));
        Assert.True(OscCodec.TryDecode(bytes, out var decoded, out var problem), problem.ToString());
        Assert.Equal(packet, decoded);
        Assert.True(problem.IsNone);
    }
}
