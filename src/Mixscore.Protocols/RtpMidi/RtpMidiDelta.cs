namespace Mixscore.Protocols.RtpMidi;

/// <summary>Delta times: one to four octets of seven bits, the top bit for "more", as in MIDI files (RFC 6295, section 3.1).</summary>
internal static class RtpMidiDelta
{
    internal const uint Largest = 0x0FFF_FFFF;
    internal const int MostBytes = 4;

    /// <summary>Returns the bytes written, or 0 when they do not fit.</summary>
    internal static int Write(Span<byte> destination, uint value)
    {
        var bytes = value < 1u << 7 ? 1 : value < 1u << 14 ? 2 : value < 1u << 21 ? 3 : 4;
        if (destination.Length < bytes) return 0;
        for (var i = 0; i < bytes; i++)
            destination[i] = (byte)(((value >> (7 * (bytes - 1 - i))) & 0x7F) | (i < bytes - 1 ? 0x80u : 0));
        return bytes;
    }

    internal static RtpMidiFault Read(ReadOnlySpan<byte> source, out uint value, out int bytes)
    {
        value = 0;
        for (bytes = 0; bytes < MostBytes;)
        {
            if (bytes == source.Length) return RtpMidiFault.Truncated;
            var octet = source[bytes++];
            value = (value << 7) | (uint)(octet & 0x7F);
            if (octet < 0x80) return RtpMidiFault.None;
        }
        return RtpMidiFault.DeltaTime;
    }
}
