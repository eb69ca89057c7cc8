using System.Buffers.Binary;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>The last value of everything sent on a channel, with the packet it was sent in, and its channel journal.</summary>
internal sealed class ChannelHistory
{
    // A channel journal says its length in ten bits.
    private const int LongestChannel = 1023;
    private const long Never = long.MinValue;

    private readonly (long Packet, Midi7 Value)[] _controllers = new (long, Midi7)[128];
    private readonly List<Parameter> _parameters = [];
    private (long Packet, Midi14 Value) _wheel = (Never, default);
    private long _selectionPacket = Never;
    private bool _isNrpn;
    private Midi7 _selectedHigh = new(Midi7.Largest);
    private Midi7 _selectedLow = new(Midi7.Largest);
    private bool _isPending;

    internal ChannelHistory() => Array.Fill(_controllers, (Never, default));

    private bool IsSelected => !_isPending && new Midi14(_selectedHigh, _selectedLow).Value != Midi14.Largest;

    internal void Note(MidiMessage message, long packet)
    {
        if (message.Kind == MidiKind.PitchBend) _wheel = (packet, message.Wide);
        if (message.Kind != MidiKind.ControlChange) return;
        var (controller, value) = (message.Data1.Value, message.Data2);
        if (!RtpMidiJournal.IsParameterController(controller)) _controllers[controller] = (packet, value);
        else NoteParameter(controller, value, packet);
    }

    internal bool HasAny(long checkpoint)
    {
        if (_wheel.Packet >= checkpoint || HasParameters(checkpoint)) return true;
        foreach (var (packet, _) in _controllers)
            if (packet >= checkpoint) return true;
        return false;
    }

    internal int Write(Span<byte> destination, int nibble, long checkpoint, long last)
    {
        var room = destination[..Math.Min(destination.Length, LongestChannel)];
        if (room.Length < RtpMidiJournal.ChannelHeaderBytes) return 0;
        var (at, contents, isOlder) = (RtpMidiJournal.ChannelHeaderBytes, 0, true);
        if (!WriteControllers(room, ref at, ref contents, ref isOlder, checkpoint, last)
            || !WriteParameters(room, ref at, ref contents, ref isOlder, checkpoint, last)
            || !WriteWheel(room, ref at, ref contents, ref isOlder, checkpoint, last)) return 0;
        var head = (isOlder ? RtpMidiJournal.OlderThanLast << 8 : 0) | (nibble << 11) | at;
        BinaryPrimitives.WriteUInt16BigEndian(room, (ushort)head);
        room[2] = (byte)contents;
        return at;
    }

    private void NoteParameter(int controller, Midi7 value, long packet)
    {
        switch (controller)
        {
            case MidiEncoder.NrpnHigh or MidiEncoder.RpnHigh:
                (_isNrpn, _selectedHigh, _isPending, _selectionPacket) = (controller == MidiEncoder.NrpnHigh, value, true, packet);
                break;
            case MidiEncoder.NrpnLow or MidiEncoder.RpnLow:
                (_isNrpn, _selectedLow, _isPending, _selectionPacket) = (controller == MidiEncoder.NrpnLow, value, false, packet);
                break;
            case MidiEncoder.DataEntry or MidiEncoder.DataEntry + MidiEncoder.LowByteOffset when IsSelected:
                Enter(controller == MidiEncoder.DataEntry, value, packet);
                break;
        }
    }

    // The list stands in the order of the last transaction, oldest first, as chapter M wants it.
    private void Enter(bool isHigh, Midi7 value, long packet)
    {
        var number = new Midi14(_selectedHigh, _selectedLow);
        var known = _parameters.Count - 1;
        while (known >= 0 && (_parameters[known].IsNrpn != _isNrpn || _parameters[known].Number != number)) known--;
        var before = known < 0 ? new Parameter(_isNrpn, number, null, null, packet) : _parameters[known];
        if (known >= 0) _parameters.RemoveAt(known);
        _parameters.Add(isHigh
            ? before with { High = value, Low = null, Packet = packet }
            : before with { Low = value, Packet = packet });
    }

    private bool HasParameters(long checkpoint) =>
        _selectionPacket >= checkpoint || (_parameters.Count > 0 && _parameters[^1].Packet >= checkpoint);

    private bool WriteControllers(Span<byte> room, ref int at, ref int contents, ref bool isOlder, long checkpoint, long last)
    {
        var (start, count, allOlder) = (at, 0, true);
        for (var number = 0; number < _controllers.Length; number++)
        {
            var (packet, value) = _controllers[number];
            if (packet < checkpoint) continue;
            var place = start + 1 + (2 * count);
            if (room.Length < place + 2) return false;
            room[place] = (byte)((packet < last ? RtpMidiJournal.OlderThanLast : 0) | number);
            room[place + 1] = value.Octet;
            allOlder &= packet < last;
            count++;
        }
        if (count == 0) return true;
        room[start] = (byte)((allOlder ? RtpMidiJournal.OlderThanLast : 0) | (count - 1));
        at = start + 1 + (2 * count);
        contents |= RtpMidiJournal.ChapterC;
        isOlder &= allOlder;
        return true;
    }

    private bool WriteParameters(Span<byte> room, ref int at, ref int contents, ref bool isOlder, long checkpoint, long last)
    {
        if (!HasParameters(checkpoint)) return true;
        var isPending = _isPending && _selectionPacket >= checkpoint;
        var (start, place) = (at, at + RtpMidiJournal.ParameterHeaderBytes + (isPending ? 1 : 0));
        if (room.Length < place) return false;
        var allOlder = _selectionPacket < last;
        if (isPending) room[place - 1] = (byte)((_isNrpn ? RtpMidiJournal.IsNrpn : 0) | _selectedHigh.Value);
        foreach (var parameter in _parameters)
        {
            if (parameter.Packet < checkpoint) continue;
            if (room.Length < place + Parameter.MostBytes) return false;
            place += parameter.Write(room[place..], parameter.Packet < last);
            allOlder &= parameter.Packet < last;
        }
        var flags = (allOlder ? RtpMidiJournal.OlderThanLast : 0) | (isPending ? RtpMidiJournal.Pending : 0)
            | (IsSelected ? RtpMidiJournal.InProgress : 0);
        BinaryPrimitives.WriteUInt16BigEndian(room[start..], (ushort)((flags << 8) | (place - start)));
        at = place;
        contents |= RtpMidiJournal.ChapterM;
        isOlder &= allOlder;
        return true;
    }

    private bool WriteWheel(Span<byte> room, ref int at, ref int contents, ref bool isOlder, long checkpoint, long last)
    {
        if (_wheel.Packet < checkpoint) return true;
        if (room.Length < at + RtpMidiJournal.ChapterWBytes) return false;
        room[at] = (byte)((_wheel.Packet < last ? RtpMidiJournal.OlderThanLast : 0) | _wheel.Value.Low.Value);
        room[at + 1] = _wheel.Value.High.Octet;
        at += RtpMidiJournal.ChapterWBytes;
        contents |= RtpMidiJournal.ChapterW;
        isOlder &= _wheel.Packet < last;
        return true;
    }

    private readonly record struct Parameter(bool IsNrpn, Midi14 Number, Midi7? High, Midi7? Low, long Packet)
    {
        public const int MostBytes = 5;

        public int Write(Span<byte> room, bool isOlder)
        {
            room[0] = (byte)((isOlder ? RtpMidiJournal.OlderThanLast : 0) | Number.Low.Value);
            room[1] = (byte)((IsNrpn ? RtpMidiJournal.IsNrpn : 0) | Number.High.Value);
            room[2] = (byte)((High is null ? 0 : RtpMidiJournal.EntryHigh) | (Low is null ? 0 : RtpMidiJournal.EntryLow)
                | RtpMidiJournal.ByValue);
            var at = 3;
            if (High is { } high) room[at++] = high.Octet;
            if (Low is { } low) room[at++] = low.Octet;
            return at;
        }
    }
}
