using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>Writes a command list into memory that the caller owns (RFC 6295, section 3). Every command has its status octet.</summary>
public ref struct RtpMidiListWriter
{
    private readonly Span<byte> _buffer;

    /// <summary>A writer at the beginning of a buffer, of which <see cref="RtpMidiPacket.LongestList"/> bytes are used at most.</summary>
    public RtpMidiListWriter(Span<byte> buffer) => _buffer = buffer[..Math.Min(buffer.Length, RtpMidiPacket.LongestList)];

    /// <summary>Bytes written.</summary>
    public int Length { get; private set; }

    /// <summary>True when the first command has a delta time before it, other than 0.</summary>
    public bool StartsWithDelta { get; private set; }

    /// <summary>The list.</summary>
    public readonly ReadOnlySpan<byte> Written => _buffer[..Length];

    /// <summary>Adds a system exclusive message, whole (RFC 6295, section 3.2).</summary>
    /// <param name="exclusive">With F0 and F7, and data bytes between them.</param>
    /// <returns>False when it does not fit; then nothing of it is left.</returns>
    /// <exception cref="ArgumentException">It is not such a message.</exception>
    public bool AddExclusive(ReadOnlySpan<byte> exclusive)
    {
        if (exclusive is not [0xF0, .. var data, 0xF7] || data.IndexOfAnyInRange((byte)0x80, (byte)0xFF) >= 0)
            throw new ArgumentException("a system exclusive message begins with F0, ends with F7 and has data bytes between", nameof(exclusive));
        var rest = _buffer[Length..];
        var size = Length > 0 ? RtpMidiDelta.Write(rest, 0) : 0;
        if ((Length > 0 && size == 0) || rest.Length - size < exclusive.Length) return false;
        exclusive.CopyTo(rest[size..]);
        Length += size + exclusive.Length;
        return true;
    }

    /// <summary>Adds a message.</summary>
    /// <param name="message">Any message but system exclusive.</param>
    /// <param name="delta">Ticks after the message before it, or after the packet's timestamp; below 2²⁸.</param>
    /// <returns>False when it does not fit; then nothing of it is left.</returns>
    /// <exception cref="ArgumentException">There is no message, or it is system exclusive, or the delta is too large.</exception>
    public bool Add(MidiMessage message, uint delta = 0)
    {
        if (message.Length == 0) throw new ArgumentException($"{message.Kind} cannot be listed as one message", nameof(message));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(delta, RtpMidiDelta.Largest);
        var rest = _buffer[Length..];
        var hasDelta = Length > 0 || delta > 0;
        var size = hasDelta ? RtpMidiDelta.Write(rest, delta) : 0;
        if ((hasDelta && size == 0) || rest.Length - size < message.Length) return false;
        size += message.Write(rest[size..]);
        if (Length == 0) StartsWithDelta = hasDelta;
        Length += size;
        return true;
    }
}
