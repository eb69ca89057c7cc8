namespace Mixscore.Protocols.Osc;

/// <summary>Framing of OSC 1.1 for streams: SLIP (RFC 1055) with END at both ends (OSC 1.1, section 4).</summary>
public static class OscSlip
{
    internal const byte End = 0xC0;
    internal const byte Escape = 0xDB;
    internal const byte EscapedEnd = 0xDC;
    internal const byte EscapedEscape = 0xDD;

    /// <summary>The longest frame that a packet of this many bytes can need.</summary>
    public static int MostBytes(int packetBytes) => checked((2 * packetBytes) + 2);

    /// <summary>The packet in its frame.</summary>
    public static byte[] Frame(ReadOnlySpan<byte> packet)
    {
        var frame = new byte[Count(packet)];
        Frame(packet, frame);
        return frame;
    }

    /// <summary>Writes the frame.</summary>
    /// <returns>Bytes written, at most <see cref="MostBytes"/>.</returns>
    /// <exception cref="ArgumentException">The destination is too short.</exception>
    public static int Frame(ReadOnlySpan<byte> packet, Span<byte> destination)
    {
        var size = Count(packet);
        if (destination.Length < size) throw new ArgumentException($"the frame takes {size} bytes", nameof(destination));
        var at = 0;
        destination[at++] = End;
        foreach (var octet in packet)
        {
            if (octet is End or Escape)
            {
                destination[at++] = Escape;
                destination[at++] = octet == End ? EscapedEnd : EscapedEscape;
            }
            else destination[at++] = octet;
        }
        destination[at++] = End;
        return at;
    }

    private static int Count(ReadOnlySpan<byte> packet) => packet.Length + 2 + packet.Count(End) + packet.Count(Escape);
}
