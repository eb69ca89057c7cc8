using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// The stream that arrives: packets in order are played, a gap is first mended by the journal of the packet behind it, and
/// packets that come too late are left, since that journal has spoken for them.
/// </summary>
internal sealed class RtpMidiIncoming(MidiReceived received, FaultCounts<RtpMidiFault> faults)
{
    private readonly ExclusiveSegments _exclusive = new();
    private bool _hasBegun;
    private ushort _expected;

    /// <summary>The last packet that was played; <c>null</c> before the first.</summary>
    internal ushort? Last => _hasBegun ? unchecked((ushort)(_expected - 1)) : null;

    /// <summary>Packets that were missing when a later one came.</summary>
    internal long Missing { get; private set; }

    /// <summary>Packets that came after a later one, or twice.</summary>
    internal long Late { get; private set; }

    /// <summary>Gaps that no journal mended.</summary>
    internal long Unmended { get; private set; }

    /// <summary>Takes a packet.</summary>
    /// <returns>True when it closed a gap.</returns>
    internal bool Take(RtpMidiPacket packet)
    {
        var gap = _hasBegun ? unchecked((short)(packet.Header.Sequence - _expected)) : 0;
        if (gap < 0)
        {
            Late++;
            return false;
        }
        Missing += gap;
        if (gap > 0) _exclusive.Drop();   // a part of it was lost
        // Before the first packet that came, others may have been lost: its journal says so by a checkpoint before it.
        var needsMending = gap > 0 || !_hasBegun;
        (_hasBegun, _expected) = (true, unchecked((ushort)(packet.Header.Sequence + 1)));
        if (needsMending && !Mend(packet.Journal) && gap > 0) Unmended++;
        Play(packet);
        return gap > 0;
    }

    private bool Mend(ReadOnlySpan<byte> journal)
    {
        if (journal.IsEmpty) return false;
        var reader = new RtpMidiJournalReader(journal);
        while (reader.Read()) received(new MidiArrival(reader.Message, isRecovered: true));
        faults.Count(reader.Fault);
        return reader.Fault == RtpMidiFault.None;
    }

    private void Play(RtpMidiPacket packet)
    {
        var reader = new RtpMidiListReader(packet);
        while (reader.Read())
        {
            if (reader.Message.Kind != MidiKind.SystemExclusive) received(new MidiArrival(reader.Message));
            else if (_exclusive.Take(reader.Segment, out var whole)) received(new MidiArrival(reader.Message, whole));
        }
        faults.Count(reader.Fault);
    }
}
