using System.Text;
using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

/// <summary>Random packets of every type that OSC 1.0 names.</summary>
internal static class OscGen
{
    private static readonly Gen<string> GenText =
        Gen.OneOf(Gen.Char['a', 'z'].Select(c => $"{c}"), Gen.OneOf("é", "→", "🎻", "\"", "\\", "\n", " ", "")).Array[0, 9]
            .Select(string.Concat);

    private static readonly Gen<string> GenAddress =
        Gen.Char["abcdefgh.019-_"].Array[1, 6].Select(c => "/" + new string(c)).Array[1, 4].Select(string.Concat);

    private static readonly Gen<OscArgument> GenFlat = Gen.OneOf(
        Gen.Int.Select(OscArgument.Of),
        Gen.Int.Select(bits => OscArgument.Of(BitConverter.Int32BitsToSingle(bits))),
        GenText.Select(OscArgument.Of),
        GenText.Select(OscArgument.Symbol),
        Gen.Byte.Array[0, 9].Select(bytes => OscArgument.Of(bytes.AsSpan())),
        Gen.Long.Select(OscArgument.Of),
        Gen.ULong.Select(bits => OscArgument.Of(new OscTimeTag(bits))),
        Gen.Long.Select(bits => OscArgument.Of(BitConverter.Int64BitsToDouble(bits))),
        Gen.UInt.Select(OscArgument.Character),
        Gen.Byte.Array[4].Select(b => OscArgument.Of(new OscColour(b[0], b[1], b[2], b[3]))),
        Gen.Byte.Array[4].Select(b => OscArgument.Of(new OscMidi(b[0], b[1], b[2], b[3]))),
        Gen.Bool.Select(OscArgument.Of),
        Gen.OneOf(OscArgument.Nil, OscArgument.Impulse));

    private static readonly Gen<OscArgument> GenArgument = Gen.Frequency(
        (8, GenFlat),
        (1, GenFlat.Array[0, 4].Select(items => OscArgument.Array(items))),
        (1, GenFlat.Array[0, 3].Select(items => OscArgument.Array(OscArgument.Array(items), OscArgument.Nil))));

    public static Gen<OscMessage> Message { get; } =
        Gen.Select(GenAddress, GenArgument.Array[0, 7], (address, arguments) => new OscMessage(address, arguments));

    private static readonly Gen<OscPacket> GenMessage = Message.Select(message => (OscPacket)message);

    private static readonly Gen<OscPacket> GenInner = Gen.Select(Gen.UInt, GenMessage.Array[0, 3],
        (late, elements) => (OscPacket)new OscBundle(new OscTimeTag((1UL << 40) + late), elements));

    private static readonly Gen<OscPacket> GenBundle = Gen.Select(Gen.UInt, Gen.OneOf(GenMessage, GenInner).Array[0, 5],
        (early, elements) => (OscPacket)new OscBundle(new OscTimeTag(early), elements));

    public static Gen<OscPacket> Packet { get; } = Gen.OneOf(GenMessage, GenBundle);

    /// <summary>The two messages of the OSC 1.0 examples page.</summary>
    public static OscMessage Oscillator { get; } = new("/oscillator/4/frequency", 440f);

    public static OscMessage Foo { get; } = new("/foo", 1000, -1, "hello", 1.234f, 5.678f);

    public static byte[] Bytes(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));

    public static byte[] Ascii(string text) => Encoding.ASCII.GetBytes(text);
}
