using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;

namespace Mixscore.Protocols.Transports;

/// <summary>The stream that is sent: numbers packets, keeps the journal, knows what the other end has.</summary>
internal sealed class RtpMidiOutgoing
{
    // What a datagram carries over an Ethernet without being cut in two.
    internal const int MostBytes = 1472;
    private const int ListHeaderBytes = 2;

    /// <summary>The longest system exclusive message that every packet has room for, with F0 and F7.</summary>
    internal const int LongestExclusive = (MostBytes / 2) - RtpMidiHeader.Bytes - ListHeaderBytes;

    private readonly RtpMidiJournalWriter _journal;
    private readonly uint _source;
    private readonly byte[] _list = new byte[MostBytes];
    private readonly byte[] _written = new byte[MostBytes];
    private ushort _next;
    private ushort _lastWithCommands;

    internal RtpMidiOutgoing(uint source, ushort first)
    {
        (_source, _next, _lastWithCommands) = (source, first, unchecked((ushort)(first - 1)));
        _journal = new RtpMidiJournalWriter(first);
        Acknowledged = _lastWithCommands;
    }

    /// <summary>The last packet that the other end said it has.</summary>
    internal ushort Acknowledged { get; private set; }

    /// <summary>True while commands are on the way of which the other end has not said that it has them.</summary>
    internal bool AwaitsFeedback => unchecked((short)(_lastWithCommands - Acknowledged)) > 0;

    /// <summary>Packets whose journal did not fit.</summary>
    internal long WithoutJournal { get; private set; }

    /// <summary>Writes the next packet.</summary>
    /// <param name="messages">What it carries; taken off the front as far as it fits. None makes a packet of the journal alone,
    /// which guards the ones before it (RFC 4696, section 4.2: guard packets).</param>
    /// <param name="timestamp">Now, in ticks of the session.</param>
    /// <param name="packet">At least <see cref="MostBytes"/>.</param>
    /// <returns>Bytes written.</returns>
    internal int Write(ref ReadOnlySpan<MidiMessage> messages, uint timestamp, Span<byte> packet)
    {
        var journal = Begin(out var list);
        var taken = 0;
        while (taken < messages.Length && list.Add(messages[taken])) _journal.Sent(messages[taken++]);
        messages = messages[taken..];
        return End(list, taken > 0, journal, timestamp, packet);
    }

    /// <summary>Writes the next packet with one system exclusive message. The journal does not guard it: a loss is not mended.</summary>
    /// <returns>Bytes written; 0 where it is longer than a packet has room for, and then no packet is made.</returns>
    internal int WriteExclusive(ReadOnlySpan<byte> exclusive, uint timestamp, Span<byte> packet)
    {
        if (exclusive.Length > LongestExclusive) return 0;
        var journal = Begin(out var list);
        list.AddExclusive(exclusive);
        return End(list, true, journal, timestamp, packet);
    }

    private int Begin(out RtpMidiListWriter list)
    {
        var journal = _journal.Write(_written.AsSpan(0, MostBytes / 2));
        if (journal == 0) WithoutJournal++;
        list = new RtpMidiListWriter(_list.AsSpan(0, MostBytes - RtpMidiHeader.Bytes - ListHeaderBytes - journal));
        _journal.NextPacket();
        return journal;
    }

    private int End(RtpMidiListWriter list, bool hasCommands, int journal, uint timestamp, Span<byte> packet)
    {
        if (hasCommands) _lastWithCommands = _next;
        var header = new RtpMidiHeader(_next, timestamp, _source);
        unchecked
        {
            _next++;
        }
        return RtpMidiPacket.Write(packet, header, list.Written, list.StartsWithDelta, _written.AsSpan(0, journal));
    }

    /// <summary>Takes what the other end has. Its number stands in the high half of the field in some programs and in the low
    /// half in others; of the two, the older that can be is believed, since that only keeps more in the journal.</summary>
    internal void Feedback(RtpMidiFeedback feedback)
    {
        var (high, low) = ((ushort)(feedback.Sequence >> 16), (ushort)feedback.Sequence);
        var sent = unchecked((ushort)(_next - 1));
        var most = unchecked((ushort)(sent - Acknowledged));
        int AgeOf(ushort sequence) => unchecked((ushort)(sent - sequence));
        var (first, second) = (AgeOf(high), AgeOf(low));
        var age = Math.Max(first <= most ? first : -1, second <= most ? second : -1);
        if (age < 0) return;
        Acknowledged = unchecked((ushort)(sent - age));
        _journal.Received(Acknowledged);
    }
}
