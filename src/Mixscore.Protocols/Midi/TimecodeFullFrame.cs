namespace Mixscore.Protocols.Midi;

/// <summary>
/// The label in one message, for a clock that stands or jumps: <c>F0 7F dd 01 01 0rrhhhhh mm ss ff F7</c> (MIDI timecode,
/// full message).
/// </summary>
public static class TimecodeFullFrame
{
    /// <summary>Bytes with F0 and F7.</summary>
    public const int Bytes = 10;

    private const byte Universal = 0x7F;
    private const byte AllDevices = 0x7F;

    /// <summary>Writes the message, addressed to all devices.</summary>
    /// <returns><see cref="Bytes"/>.</returns>
    /// <exception cref="ArgumentException">The destination is shorter.</exception>
    public static int Write(Span<byte> destination, Timecode label)
    {
        if (destination.Length < Bytes) throw new ArgumentException($"the message takes {Bytes} bytes", nameof(destination));
        ReadOnlySpan<byte> message =
        [
            0xF0, Universal, AllDevices, 0x01, 0x01, (byte)(((int)label.Rate << 5) | label.Hours),
            (byte)label.Minutes, (byte)label.Seconds, (byte)label.Frames, 0xF7,
        ];
        message.CopyTo(destination);
        return Bytes;
    }

    /// <summary>Reads a system exclusive message, without F0 and F7, to whatever device it is addressed.</summary>
    /// <returns>False when it is no full message, or no label by its own rate.</returns>
    public static bool TryRead(ReadOnlySpan<byte> exclusive, out Timecode label)
    {
        label = default;
        if (exclusive is not [Universal, _, 0x01, 0x01, var hours, var minutes, var seconds, var frames]) return false;
        var rate = (TimecodeRate)((hours >> 5) & 3);
        if (!Timecode.IsLabel(rate, hours & 0x1F, minutes, seconds, frames)) return false;
        label = new Timecode(rate, hours & 0x1F, minutes, seconds, frames);
        return true;
    }
}
