using System.Buffers.Binary;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>Tells session packets from RTP: they begin with <c>FF FF</c>, which no RTP packet of version 2 does.</summary>
public static class RtpMidiSession
{
    /// <summary>The kind of a session packet; none for RTP and for letters not known.</summary>
    public static RtpMidiSessionKind KindOf(ReadOnlySpan<byte> packet)
    {
        if (packet is not [0xFF, 0xFF, var first, var second, ..]) return RtpMidiSessionKind.None;
        var kind = (RtpMidiSessionKind)((first << 8) | second);
        return Enum.IsDefined(kind) ? kind : RtpMidiSessionKind.None;
    }

    internal static void WriteKind(Span<byte> destination, RtpMidiSessionKind kind)
    {
        BinaryPrimitives.WriteUInt16BigEndian(destination, 0xFFFF);
        BinaryPrimitives.WriteUInt16BigEndian(destination[2..], (ushort)kind);
    }
}
