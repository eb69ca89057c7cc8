using System.Globalization;
using System.Text;
using Mixscore.Protocols.Osc;

namespace Mixscore.Outside.Tests.Wire;

/// <summary>osc-min 2.1.2 (npm), a reader and writer of OSC that we did not write: packets of every type, both ways.</summary>
public class OscPeerTests
{
    private const int Count = 10_000;
    private static readonly string Peer = Path.Combine(Outside.Sources, "osc", "peer.mjs");

    [Fact]
    public void What_we_encode_is_decoded_there()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var random = new Random(1_0);
        var packets = Enumerable.Range(0, Count).Select(_ => RandomOsc.Packet(random)).ToArray();
        var input = string.Concat(packets.Select(packet => Convert.ToHexString(OscCodec.Encode(packet)) + "\n"));
        var (code, output, error) = Outside.RunWith(Encoding.ASCII.GetBytes(input), "node", Peer, "decode");
        Assert.True(code == 0, error);
        Assert.Equal(packets.Select(TextOf), Encoding.UTF8.GetString(output).TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void What_is_encoded_there_we_decode()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var (code, output, error) = Outside.RunWith([], "node", Peer, "encode", $"{Count}", "5");
        Assert.True(code == 0, error);
        var lines = Encoding.UTF8.GetString(output).TrimEnd('\n').Split('\n');
        Assert.Equal(Count, lines.Length);
        foreach (var parts in lines.Select(line => line.Split('\t')))
        {
            var bytes = Convert.FromHexString(parts[0]);
            Assert.True(OscCodec.TryDecode(bytes, out var packet, out var problem) && problem.IsNone, $"{problem}: {parts[1]}");
            Assert.Equal(parts[1], TextOf(packet));
            if (!parts[1].Contains(":nan", StringComparison.Ordinal)) Assert.Equal(bytes, OscCodec.Encode(packet));
        }
    }

    // The same text as peer.mjs writes.
    private static string TextOf(OscPacket packet) => packet is OscBundle bundle
        ? $"{{{string.Join(';', bundle.Elements.Select(TextOf).Prepend(TextOf(bundle.TimeTag)))}}}"
        : $"{((OscMessage)packet).Address}({string.Join(' ', ((OscMessage)packet).Arguments.Select(TextOf))})";

    private static string TextOf(OscTimeTag tag) => $"{tag.Value >> 32}.{(uint)tag.Value}";

    private static string TextOf(OscArgument argument) => argument.Tag switch
    {
        OscTag.Int32 => string.Create(CultureInfo.InvariantCulture, $"i:{argument.AsInt32()}"),
        OscTag.Int64 => string.Create(CultureInfo.InvariantCulture, $"h:{argument.AsInt64()}"),
        OscTag.Float32 => float.IsNaN(argument.AsFloat32()) ? "f:nan" : $"f:{BitConverter.SingleToUInt32Bits(argument.AsFloat32()):x8}",
        OscTag.Float64 => double.IsNaN(argument.AsFloat64()) ? "d:nan" : $"d:{BitConverter.DoubleToUInt64Bits(argument.AsFloat64()):x16}",
        OscTag.String => $"s:{Convert.ToHexStringLower(Encoding.UTF8.GetBytes(argument.AsText()))}",
        OscTag.Symbol => $"S:{Convert.ToHexStringLower(Encoding.UTF8.GetBytes(argument.AsText()))}",
        OscTag.Blob => $"b:{Convert.ToHexStringLower(argument.AsBlob())}",
        OscTag.TimeTag => $"t:{TextOf(argument.AsTimeTag())}",
        OscTag.Character => $"c:{argument.AsCharacter()}",
        OscTag.Colour => $"r:{argument.AsColour().ToString()[1..]}",
        OscTag.Midi => $"m:{argument.AsMidi().ToString().Replace(":", "", StringComparison.Ordinal)}",
        OscTag.Array => $"[{string.Join(' ', argument.AsArray().ToArray().Select(TextOf))}]",
        var tag => $"{(char)tag}",
    };
}
