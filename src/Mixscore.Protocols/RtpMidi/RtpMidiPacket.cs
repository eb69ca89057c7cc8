namespace Mixscore.Protocols.RtpMidi;

/// <summary>The parts of a packet: header, command list, journal (RFC 6295, sections 2.2, 3 and 4).</summary>
public readonly ref struct RtpMidiPacket
{
    /// <summary>The longest command list, in bytes.</summary>
    public const int LongestList = 4095;

    private const int Long = 0x80;
    private const int HasJournal = 0x40;
    private const int HasFirstDelta = 0x20;
    private const int ShortestLong = 16;

    private RtpMidiPacket(RtpMidiHeader header, ReadOnlySpan<byte> list, bool startsWithDelta, ReadOnlySpan<byte> journal)
    {
        Header = header;
        List = list;
        StartsWithDelta = startsWithDelta;
        Journal = journal;
    }

    /// <summary>The header.</summary>
    public RtpMidiHeader Header { get; }

    /// <summary>The command list, for an <see cref="RtpMidiListReader"/>; may be empty.</summary>
    public ReadOnlySpan<byte> List { get; }

    /// <summary>True when a delta time stands before the first command (the Z bit).</summary>
    public bool StartsWithDelta { get; }

    /// <summary>The recovery journal, for an <see cref="RtpMidiJournalReader"/>; empty when there is none.</summary>
    public ReadOnlySpan<byte> Journal { get; }

    /// <summary>Takes a packet apart. Commands and journal are judged when they are read.</summary>
    public static bool TryRead(ReadOnlySpan<byte> bytes, out RtpMidiPacket packet, out RtpMidiFault fault)
    {
        packet = default;
        fault = RtpMidiHeader.TryRead(bytes, out var header, out var payload);
        if (fault != RtpMidiFault.None) return false;
        fault = RtpMidiFault.Truncated;
        if (payload.IsEmpty) return false;
        var flags = payload[0];
        var isLong = (flags & Long) != 0;
        if (isLong && payload.Length < 2) return false;
        var length = isLong ? ((flags & 0x0F) << 8) | payload[1] : flags & 0x0F;
        var start = isLong ? 2 : 1;
        fault = RtpMidiFault.ListLength;
        if (length > payload.Length - start) return false;
        fault = RtpMidiFault.None;
        var journal = (flags & HasJournal) != 0 ? payload[(start + length)..] : default;
        packet = new RtpMidiPacket(header, payload.Slice(start, length), (flags & HasFirstDelta) != 0, journal);
        return true;
    }

    /// <summary>Writes a packet.</summary>
    /// <param name="destination">Where to.</param>
    /// <param name="header">The header; the marker bit is set by whether there are commands.</param>
    /// <param name="list">The command list.</param>
    /// <param name="startsWithDelta">Whether the list begins with a delta time.</param>
    /// <param name="journal">The journal; empty for none.</param>
    /// <returns>Bytes written.</returns>
    /// <exception cref="ArgumentException">The list is too long, or the destination too short.</exception>
    public static int Write(
        Span<byte> destination, RtpMidiHeader header, ReadOnlySpan<byte> list, bool startsWithDelta, ReadOnlySpan<byte> journal)
    {
        if (list.Length > LongestList) throw new ArgumentException($"a list has at most {LongestList} bytes", nameof(list));
        var start = RtpMidiHeader.Bytes + (list.Length < ShortestLong ? 1 : 2);
        var total = start + list.Length + journal.Length;
        if (destination.Length < total) throw new ArgumentException($"the packet takes {total} bytes", nameof(destination));
        header.Write(destination, marker: !list.IsEmpty);
        var flags = (journal.IsEmpty ? 0 : HasJournal) | (startsWithDelta ? HasFirstDelta : 0);
        if (list.Length < ShortestLong) destination[RtpMidiHeader.Bytes] = (byte)(flags | list.Length);
        else
        {
            destination[RtpMidiHeader.Bytes] = (byte)(flags | Long | (list.Length >> 8));
            destination[RtpMidiHeader.Bytes + 1] = (byte)list.Length;
        }
        list.CopyTo(destination[start..]);
        journal.CopyTo(destination[(start + list.Length)..]);
        return total;
    }
}
