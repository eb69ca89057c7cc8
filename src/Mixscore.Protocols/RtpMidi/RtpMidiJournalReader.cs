using System.Buffers.Binary;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// Walks the journal of a packet that follows lost ones, and gives the messages that bring controllers, parameters and pitch
/// wheels to where they are at the sender (RFC 6295, appendices A.3 to A.5). Other chapters are passed over by their
/// lengths. Takes no memory.
/// </summary>
public ref struct RtpMidiJournalReader
{
    private readonly ReadOnlySpan<byte> _journal;
    private int _at;
    private int _channelsLeft;
    private int _channelEnd;
    private MidiChannel _channel;
    private int _contents;
    private int _controllersLeft;
    private int _parametersEnd;
    private int _parameterFlags;
    private Waiting _waiting;
    private int _waitingAt;
    private int _waitingCount;

    /// <summary>A reader at the beginning of a journal.</summary>
    public RtpMidiJournalReader(ReadOnlySpan<byte> journal)
    {
        _journal = journal;
        if (journal.Length < RtpMidiJournal.HeaderBytes)
        {
            Fault = RtpMidiFault.Truncated;
            return;
        }
        Checkpoint = BinaryPrimitives.ReadUInt16BigEndian(journal[1..]);
        _at = RtpMidiJournal.HeaderBytes;
        _channelsLeft = (journal[0] & RtpMidiJournal.HasChannels) != 0 ? (journal[0] & 0x0F) + 1 : 0;
        if ((journal[0] & RtpMidiJournal.HasSystem) == 0) return;
        // RFC 6295, section 5: the system journal comes first and says its length in ten bits.
        if (journal.Length - _at < RtpMidiJournal.SystemHeaderBytes) Fault = RtpMidiFault.Truncated;
        else Skip(BinaryPrimitives.ReadUInt16BigEndian(journal[_at..]) & 0x3FF, RtpMidiJournal.SystemHeaderBytes, journal.Length);
    }

    /// <summary>The first packet whose commands the journal covers.</summary>
    public ushort Checkpoint { get; }

    /// <summary>A message that restores something.</summary>
    public MidiMessage Message { get; private set; }

    /// <summary>What stopped the walk; none when it ended well.</summary>
    public RtpMidiFault Fault { get; private set; }

    /// <summary>Goes to the next message.</summary>
    /// <returns>False at the end, and when the journal is malformed: <see cref="Fault"/> tells which.</returns>
    public bool Read()
    {
        while (Fault == RtpMidiFault.None)
        {
            if (_waitingAt < _waitingCount)
            {
                Message = _waiting[_waitingAt++];
                return true;
            }
            (_waitingAt, _waitingCount) = (0, 0);
            if (_controllersLeft > 0) Controller();
            else if (_at < _parametersEnd) Parameter();
            else if (_contents != 0) Chapter();
            else if (_channelsLeft > 0) Channel();
            else return false;
        }
        return false;
    }

    private void Channel()
    {
        _at = Math.Max(_at, _channelEnd);
        _channelsLeft--;
        if (!Has(RtpMidiJournal.ChannelHeaderBytes, _journal.Length)) return;
        var head = BinaryPrimitives.ReadUInt16BigEndian(_journal[_at..]);
        var length = head & 0x3FF;
        if (length < RtpMidiJournal.ChannelHeaderBytes || length > _journal.Length - _at)
        {
            Fault = RtpMidiFault.JournalLength;
            return;
        }
        _channel = MidiChannel.Of(head >> 11);
        // What follows chapter W is passed over by the channel's length.
        _contents = _journal[_at + 2] & (RtpMidiJournal.ChapterP | RtpMidiJournal.ChapterC | RtpMidiJournal.ChapterM | RtpMidiJournal.ChapterW);
        _channelEnd = _at + length;
        _at += RtpMidiJournal.ChannelHeaderBytes;
    }

    private void Chapter()
    {
        if (Take(RtpMidiJournal.ChapterP)) Skip(RtpMidiJournal.ChapterPBytes, RtpMidiJournal.ChapterPBytes, _channelEnd);
        else if (Take(RtpMidiJournal.ChapterC))
        {
            // RFC 6295, appendix A.3: the length counts the logs, less one.
            if (!Has(1, _channelEnd) || !Has(1 + (2 * ((_journal[_at] & 0x7F) + 1)), _channelEnd)) return;
            _controllersLeft = (_journal[_at++] & 0x7F) + 1;
        }
        else if (Take(RtpMidiJournal.ChapterM)) Parameters();
        else if (Take(RtpMidiJournal.ChapterW) && Has(RtpMidiJournal.ChapterWBytes, _channelEnd))
        {
            Wait(MidiMessage.PitchBend(_channel, new Midi14(Midi7.Low(_journal[_at + 1]), Midi7.Low(_journal[_at]))));
            _at += RtpMidiJournal.ChapterWBytes;
        }
    }

    private void Controller()
    {
        _controllersLeft--;
        var (number, value) = (_journal[_at], _journal[_at + 1]);
        _at += 2;
        // With the top bit set it counts presses instead of giving a value; faders have no use for that.
        if (value < 0x80) Wait(MidiMessage.ControlChange(_channel, Midi7.Low(number), Midi7.Low(value)));
    }

    private void Parameters()
    {
        if (!Has(RtpMidiJournal.ParameterHeaderBytes, _channelEnd)) return;
        var head = BinaryPrimitives.ReadUInt16BigEndian(_journal[_at..]);
        var size = RtpMidiJournal.ParameterHeaderBytes + ((head >> 8 & RtpMidiJournal.Pending) != 0 ? 1 : 0);
        var end = _at + (head & 0x3FF);
        if (end < _at + size || end > _channelEnd)
        {
            Fault = RtpMidiFault.JournalLength;
            return;
        }
        (_parameterFlags, _parametersEnd) = (head >> 8, end);
        _at += size;
    }

    private void Parameter()
    {
        var isShort = (_parameterFlags & RtpMidiJournal.AllLow) != 0
            && (_parameterFlags & (RtpMidiJournal.AllRpn | RtpMidiJournal.AllNrpn)) != 0;
        var size = isShort ? 2 : 3;
        if (!Has(size, _parametersEnd)) return;
        var low = Midi7.Low(_journal[_at]);
        var high = isShort ? default : Midi7.Low(_journal[_at + 1]);
        var isNrpn = isShort ? (_parameterFlags & RtpMidiJournal.AllNrpn) != 0 : (_journal[_at + 1] & RtpMidiJournal.IsNrpn) != 0;
        var fields = _journal[_at + size - 1];
        _at += size;
        var entries = ((fields & RtpMidiJournal.EntryHigh) != 0 ? 1 : 0) + ((fields & RtpMidiJournal.EntryLow) != 0 ? 1 : 0);
        var rest = ((fields & RtpMidiJournal.AButton) != 0 ? 2 : 0) + ((fields & RtpMidiJournal.CButton) != 0 ? 2 : 0)
            + ((fields & RtpMidiJournal.Count) != 0 ? 1 : 0);
        if (!Has(entries + rest, _parametersEnd)) return;
        if (entries > 0)
        {
            WaitControl(isNrpn ? MidiEncoder.NrpnHigh : MidiEncoder.RpnHigh, high);
            WaitControl(isNrpn ? MidiEncoder.NrpnLow : MidiEncoder.RpnLow, low);
        }
        if ((fields & RtpMidiJournal.EntryHigh) != 0) WaitControl(MidiEncoder.DataEntry, Midi7.Low(_journal[_at++]));
        if ((fields & RtpMidiJournal.EntryLow) != 0)
            WaitControl(MidiEncoder.DataEntry + MidiEncoder.LowByteOffset, Midi7.Low(_journal[_at++]));
        _at += rest;
    }

    private bool Take(int chapter)
    {
        if ((_contents & chapter) == 0) return false;
        _contents &= ~chapter;
        return true;
    }

    private void WaitControl(int controller, Midi7 value) => Wait(MidiMessage.ControlChange(_channel, new Midi7(controller), value));

    private void Wait(MidiMessage message) => _waiting[_waitingCount++] = message;

    private bool Has(int bytes, int end)
    {
        if (end - _at >= bytes) return true;
        Fault = RtpMidiFault.JournalLength;
        return false;
    }

    private void Skip(int bytes, int least, int end)
    {
        if (bytes < least || bytes > end - _at) Fault = RtpMidiFault.JournalLength;
        else _at += bytes;
    }

    // A parameter takes four messages: two that select it, two that give its value.
    [System.Runtime.CompilerServices.InlineArray(4)]
    private struct Waiting
    {
        private MidiMessage _first;
    }
}
