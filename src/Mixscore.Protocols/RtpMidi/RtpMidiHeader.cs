using System.Buffers.Binary;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>The RTP header of a packet (RFC 3550, section 5.1; RFC 6295, section 2.1).</summary>
/// <param name="Sequence">Rises by one a packet, round 65,536.</param>
/// <param name="Timestamp">In ticks of the session's clock, round 2³².</param>
/// <param name="Source">The sender's SSRC.</param>
/// <param name="PayloadType">0 to 127; 97 in common use.</param>
public readonly record struct RtpMidiHeader(ushort Sequence, uint Timestamp, uint Source, byte PayloadType = 97)
{
    /// <summary>Bytes of a header as written.</summary>
    public const int Bytes = 12;

    private const int Version2 = 0x80;

    internal void Write(Span<byte> destination, bool marker)
    {
        destination[0] = Version2;
        destination[1] = (byte)((marker ? 0x80 : 0) | (PayloadType & 0x7F));
        BinaryPrimitives.WriteUInt16BigEndian(destination[2..], Sequence);
        BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Timestamp);
        BinaryPrimitives.WriteUInt32BigEndian(destination[8..], Source);
    }

    // Passes over contributing sources and an extension, and takes padding off the end, though RTP-MIDI sends none.
    internal static RtpMidiFault TryRead(ReadOnlySpan<byte> packet, out RtpMidiHeader header, out ReadOnlySpan<byte> payload)
    {
        header = default;
        payload = default;
        if (packet.Length < Bytes) return RtpMidiFault.Truncated;
        if ((packet[0] & 0xC0) != Version2) return RtpMidiFault.Version;
        var start = Bytes + (4 * (packet[0] & 0x0F));
        if ((packet[0] & 0x10) != 0)
        {
            if (packet.Length < start + 4) return RtpMidiFault.Truncated;
            start += 4 + (4 * BinaryPrimitives.ReadUInt16BigEndian(packet[(start + 2)..]));
        }
        var end = packet.Length - ((packet[0] & 0x20) != 0 ? packet[^1] : 0);
        if (start > end) return RtpMidiFault.Truncated;
        header = new RtpMidiHeader(BinaryPrimitives.ReadUInt16BigEndian(packet[2..]), BinaryPrimitives.ReadUInt32BigEndian(packet[4..]),
            BinaryPrimitives.ReadUInt32BigEndian(packet[8..]), (byte)(packet[1] & 0x7F));
        payload = packet[start..end];
        return RtpMidiFault.None;
    }
}
