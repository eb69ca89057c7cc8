using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using System.Text;

namespace Mixscore.Protocols.Osc;

/// <summary>Packets to bytes and back (OSC 1.0). Pure: no sockets, no clocks.</summary>
public static class OscCodec
{
    /// <summary>The packet's bytes, a multiple of 4.</summary>
    public static byte[] Encode(OscPacket packet)
    {
        var bytes = new byte[EncodedLength(packet)];
        var writer = new OscWriter(bytes);
        Write(ref writer, packet);
        return bytes;
    }

    /// <summary>How many bytes <see cref="Encode"/> makes.</summary>
    /// <exception cref="OverflowException">More than 2 GiB.</exception>
    public static int EncodedLength(OscPacket packet)
    {
        ArgumentNullException.ThrowIfNull(packet);
        var length = 0;
        if (packet is OscBundle bundle)
        {
            length = OscWire.BundleHeader;
            foreach (var element in bundle.Elements) length = checked(length + 4 + EncodedLength(element));
            return length;
        }
        var message = (OscMessage)packet;
        length = OscWire.PaddedText(message.Address.Length) + OscWire.PaddedText(OscText.Types(message).Length);
        foreach (var argument in message.Arguments) length = checked(length + EncodedLength(argument));
        return length;
    }

    /// <summary>Reads a packet.</summary>
    /// <param name="bytes">One datagram or frame, any bytes at all.</param>
    /// <param name="packet">The packet; <c>null</c> when there is none. Messages that had to be left out are missing from
    /// their bundle.</param>
    /// <param name="problem">On false, what is wrong; on true, why the first message was left out, or no fault.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    /// <returns>True when there is a packet.</returns>
    public static bool TryDecode(
        ReadOnlySpan<byte> bytes, [NotNullWhen(true)] out OscPacket? packet, out OscProblem problem, OscLimits? limits = null)
    {
        packet = null;
        problem = Judge(bytes, limits, out var leftOut);
        if (!problem.IsNone) return false;
        problem = leftOut;
        var reader = new OscReader(bytes, limits);
        if (!reader.Read()) return false;
        packet = reader.Token == OscToken.BundleStart ? ReadBundle(ref reader) : ReadMessage(ref reader);
        return true;
    }

    /// <summary>Judges a packet without taking memory.</summary>
    /// <returns>What is wrong with the packet as a whole, or no fault. A message that would be left out is not a fault.</returns>
    public static OscProblem Check(ReadOnlySpan<byte> bytes, OscLimits? limits = null) => Judge(bytes, limits, out _);

    private static OscProblem Judge(ReadOnlySpan<byte> bytes, OscLimits? limits, out OscProblem leftOut)
    {
        var reader = new OscReader(bytes, limits);
        while (reader.NextMessage())
        {
        }
        leftOut = reader.FirstLeftOut;
        return reader.Problem;
    }

    private static OscBundle ReadBundle(ref OscReader reader)
    {
        var timeTag = reader.TimeTag;
        var elements = ImmutableArray.CreateBuilder<OscPacket>();
        var more = reader.Read();
        while (more && reader.Token != OscToken.BundleEnd)
        {
            if (reader.Token == OscToken.BundleStart)
            {
                elements.Add(ReadBundle(ref reader));
                more = reader.Read();
            }
            else elements.Add(ReadMessage(ref reader));
        }
        return new OscBundle(timeTag, elements.ToArray());
    }

    // Leaves the reader on the first token behind the message.
    private static OscMessage ReadMessage(ref OscReader reader)
    {
        var address = Encoding.ASCII.GetString(reader.Address);
        reader.Read();
        return new OscMessage(address, ReadArguments(ref reader));
    }

    // Begins on the first argument, ends on the first token that belongs to none.
    private static OscArgument[] ReadArguments(ref OscReader reader)
    {
        var arguments = new List<OscArgument>();
        for (; reader.Token is OscToken.Argument or OscToken.ArrayStart; reader.Read())
        {
            if (reader.Token == OscToken.Argument) arguments.Add(Argument(ref reader));
            else
            {
                reader.Read();
                arguments.Add(OscArgument.Array(ReadArguments(ref reader)));
            }
        }
        return [.. arguments];
    }

    private static OscArgument Argument(ref OscReader reader) => reader.Tag switch
    {
        OscTag.Int32 => reader.Int32,
        OscTag.Float32 => reader.Float32,
        OscTag.String => Encoding.UTF8.GetString(reader.Text),
        OscTag.Symbol => OscArgument.Symbol(Encoding.UTF8.GetString(reader.Text)),
        OscTag.Blob => OscArgument.Of(reader.Blob),
        OscTag.Int64 => OscArgument.Of(reader.Int64),
        OscTag.TimeTag => OscArgument.Of(reader.Moment),
        OscTag.Float64 => OscArgument.Of(reader.Float64),
        OscTag.Character => OscArgument.Character(reader.Character),
        OscTag.Colour => OscArgument.Of(reader.Colour),
        OscTag.Midi => OscArgument.Of(reader.Midi),
        OscTag.True => OscArgument.Of(true),
        OscTag.False => OscArgument.Of(false),
        OscTag.Impulse => OscArgument.Impulse,
        _ => OscArgument.Nil,
    };

    private static int EncodedLength(OscArgument argument)
    {
        switch (argument.Tag)
        {
            case OscTag.Int32 or OscTag.Float32 or OscTag.Character or OscTag.Colour or OscTag.Midi:
                return 4;
            case OscTag.Int64 or OscTag.TimeTag or OscTag.Float64:
                return 8;
            case OscTag.String or OscTag.Symbol:
                return OscWire.PaddedText(Encoding.UTF8.GetByteCount(argument.AsText()));
            case OscTag.Blob:
                return 4 + OscWire.Padded(argument.AsBlob().Length);
            case OscTag.Array:
                var length = 0;
                foreach (var item in argument.AsArray()) length = checked(length + EncodedLength(item));
                return length;
            default:
                return 0;
        }
    }

    private static void Write(ref OscWriter writer, OscPacket packet)
    {
        if (packet is OscBundle bundle)
        {
            writer.BeginBundle(bundle.TimeTag);
            foreach (var element in bundle.Elements) Write(ref writer, element);
            writer.EndBundle();
            return;
        }
        var message = (OscMessage)packet;
        writer.BeginMessage(message.Address, Encoding.ASCII.GetBytes(OscText.Types(message)).AsSpan(1));
        foreach (var argument in message.Arguments) Write(ref writer, argument);
        writer.EndMessage();
    }

    private static void Write(ref OscWriter writer, OscArgument argument)
    {
        switch (argument.Tag)
        {
            case OscTag.Int32: writer.Int32(argument.AsInt32()); break;
            case OscTag.Float32: writer.Float32(argument.AsFloat32()); break;
            case OscTag.String or OscTag.Symbol: writer.Text(argument.AsText()); break;
            case OscTag.Blob: writer.Blob(argument.AsBlob()); break;
            case OscTag.Int64: writer.Int64(argument.AsInt64()); break;
            case OscTag.TimeTag: writer.Moment(argument.AsTimeTag()); break;
            case OscTag.Float64: writer.Float64(argument.AsFloat64()); break;
            case OscTag.Character: writer.Character(argument.AsCharacter()); break;
            case OscTag.Colour: writer.Colour(argument.AsColour()); break;
            case OscTag.Midi: writer.Midi(argument.AsMidi()); break;
            case OscTag.Array:
                foreach (var item in argument.AsArray()) Write(ref writer, item);
                break;
        }
    }
}
