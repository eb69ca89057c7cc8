using System.Buffers.Binary;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// One of three packets that compare two clocks: the first carries when it was sent, the second adds when it was answered,
/// the third when the answer came. Times are in units of 100 µs, each by its sender's clock.
/// </summary>
/// <param name="Source">The sender's SSRC.</param>
/// <param name="Count">0, 1 or 2: which of the three.</param>
/// <param name="Time1">When the first was sent.</param>
/// <param name="Time2">When it was answered; 0 in the first.</param>
/// <param name="Time3">When the answer came; 0 in the first and second.</param>
public readonly record struct RtpMidiClockPacket(uint Source, byte Count, ulong Time1, ulong Time2 = 0, ulong Time3 = 0)
{
    /// <summary>Bytes of a packet.</summary>
    public const int Bytes = 36;

    /// <summary>The beginner's clock less the answerer's, in units of 100 µs, when all three times are known.</summary>
    public long Offset => unchecked((long)Time1 + ((long)(Time3 - Time1) / 2) - (long)Time2);

    /// <summary>There and back, in units of 100 µs, when all three times are known.</summary>
    public long RoundTrip => unchecked((long)(Time3 - Time1));

    /// <summary>Writes the packet.</summary>
    /// <returns><see cref="Bytes"/>.</returns>
    /// <exception cref="ArgumentException">The destination is shorter.</exception>
    public int Write(Span<byte> destination)
    {
        if (destination.Length < Bytes) throw new ArgumentException($"the packet takes {Bytes} bytes", nameof(destination));
        destination[..Bytes].Clear();
        RtpMidiSession.WriteKind(destination, RtpMidiSessionKind.Clock);
        BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Source);
        destination[8] = Count;
        BinaryPrimitives.WriteUInt64BigEndian(destination[12..], Time1);
        BinaryPrimitives.WriteUInt64BigEndian(destination[20..], Time2);
        BinaryPrimitives.WriteUInt64BigEndian(destination[28..], Time3);
        return Bytes;
    }

    /// <summary>Reads a packet.</summary>
    /// <returns>False when it is of another kind, too short, or its count is above 2.</returns>
    public static bool TryRead(ReadOnlySpan<byte> packet, out RtpMidiClockPacket clock)
    {
        clock = default;
        if (RtpMidiSession.KindOf(packet) != RtpMidiSessionKind.Clock || packet.Length < Bytes || packet[8] > 2) return false;
        clock = new RtpMidiClockPacket(BinaryPrimitives.ReadUInt32BigEndian(packet[4..]), packet[8],
            BinaryPrimitives.ReadUInt64BigEndian(packet[12..]), BinaryPrimitives.ReadUInt64BigEndian(packet[20..]),
            BinaryPrimitives.ReadUInt64BigEndian(packet[28..]));
        return true;
    }
}
