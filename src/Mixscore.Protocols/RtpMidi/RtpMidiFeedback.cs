using System.Buffers.Binary;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>What a receiver has heard, so that the sender's journal need not reach further back.</summary>
/// <param name="Source">The receiver's SSRC.</param>
/// <param name="Sequence">The last packet received, in 32 bits; RTP's own number is the low half (read in one library,
/// unverified elsewhere).</param>
public readonly record struct RtpMidiFeedback(uint Source, uint Sequence)
{
    /// <summary>Bytes of a packet.</summary>
    public const int Bytes = 12;

    /// <summary>Writes the packet.</summary>
    /// <returns><see cref="Bytes"/>.</returns>
    /// <exception cref="ArgumentException">The destination is shorter.</exception>
    public int Write(Span<byte> destination)
    {
        if (destination.Length < Bytes) throw new ArgumentException($"the packet takes {Bytes} bytes", nameof(destination));
        RtpMidiSession.WriteKind(destination, RtpMidiSessionKind.Feedback);
        BinaryPrimitives.WriteUInt32BigEndian(destination[4..], Source);
        BinaryPrimitives.WriteUInt32BigEndian(destination[8..], Sequence);
        return Bytes;
    }

    /// <summary>Reads a packet.</summary>
    /// <returns>False when it is of another kind or too short.</returns>
    public static bool TryRead(ReadOnlySpan<byte> packet, out RtpMidiFeedback feedback)
    {
        feedback = default;
        if (RtpMidiSession.KindOf(packet) != RtpMidiSessionKind.Feedback || packet.Length < Bytes) return false;
        feedback = new RtpMidiFeedback(BinaryPrimitives.ReadUInt32BigEndian(packet[4..]), BinaryPrimitives.ReadUInt32BigEndian(packet[8..]));
        return true;
    }
}
