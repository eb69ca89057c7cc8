using System.Buffers.Binary;

namespace Mixscore.Protocols.Osc;

/// <summary>Framing of OSC 1.0 for streams and files: an int32 length, then the packet ("OSC Packets").</summary>
public static class OscLengthFraming
{
    /// <summary>Bytes before the packet.</summary>
    public const int HeaderBytes = 4;

    /// <summary>The packet in its frame.</summary>
    public static byte[] Frame(ReadOnlySpan<byte> packet)
    {
        var frame = new byte[HeaderBytes + packet.Length];
        Frame(packet, frame);
        return frame;
    }

    /// <summary>Writes the frame, <see cref="HeaderBytes"/> longer than the packet.</summary>
    /// <returns>Bytes written.</returns>
    /// <exception cref="ArgumentException">The destination is too short.</exception>
    public static int Frame(ReadOnlySpan<byte> packet, Span<byte> destination)
    {
        if (destination.Length < HeaderBytes + packet.Length)
            throw new ArgumentException($"the frame takes {HeaderBytes + packet.Length} bytes", nameof(destination));
        packet.CopyTo(destination[HeaderBytes..]);
        BinaryPrimitives.WriteInt32BigEndian(destination, packet.Length);
        return HeaderBytes + packet.Length;
    }
}
