using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// Walks a command list from a stranger without taking memory: delta times, running status, segments of system exclusive
/// (RFC 6295, sections 3.1 and 3.2).
/// </summary>
public ref struct RtpMidiListReader
{
    private readonly ReadOnlySpan<byte> _list;
    private readonly bool _startsWithDelta;
    private int _at;
    private int _running;

    /// <summary>A reader at the beginning of a packet's list.</summary>
    public RtpMidiListReader(RtpMidiPacket packet)
    {
        _list = packet.List;
        _startsWithDelta = packet.StartsWithDelta;
    }

    /// <summary>Ticks after the command before it, or after the packet's timestamp.</summary>
    public uint Delta { get; private set; }

    /// <summary>The message; for <see cref="MidiKind.SystemExclusive"/> see <see cref="Segment"/>.</summary>
    public MidiMessage Message { get; private set; }

    /// <summary>A system exclusive segment with both its ends: <c>F0 … F7</c> whole, <c>F0 … F0</c> the first, <c>F7 … F0</c> a
    /// middle, <c>F7 … F7</c> the last, <c>… F4</c> called off.</summary>
    public ReadOnlySpan<byte> Segment { get; private set; }

    /// <summary>What stopped the walk; none when it ended well.</summary>
    public RtpMidiFault Fault { get; private set; }

    /// <summary>Goes to the next command.</summary>
    /// <returns>False at the end, and when the list is malformed: <see cref="Fault"/> tells which.</returns>
    public bool Read()
    {
        Segment = default;
        if (Fault != RtpMidiFault.None || _at == _list.Length) return false;
        Delta = 0;
        if (_at > 0 || _startsWithDelta)
        {
            Fault = RtpMidiDelta.Read(_list[_at..], out var delta, out var bytes);
            if (Fault != RtpMidiFault.None) return false;
            Delta = delta;
            _at += bytes;
            // A list may end in a delta time with no command behind it, which then stands for nothing.
            if (_at == _list.Length) return false;
        }
        return Command();
    }

    private bool Command()
    {
        var status = (int)_list[_at];
        if (status < 0x80)
        {
            if (_running == 0) return Fail(RtpMidiFault.Command);
            status = _running;
        }
        else _at++;
        if (status is 0xF0 or 0xF7) return Exclusive();
        if (status is 0xF4 or 0xF5 or 0xF9 or 0xFD) return Fail(RtpMidiFault.Command);
        var count = MidiMessage.DataBytes(status);
        if (_list.Length - _at < count) return Fail(RtpMidiFault.Truncated);
        var data = _list.Slice(_at, count);
        if (data.IndexOfAnyInRange((byte)0x80, (byte)0xFF) >= 0) return Fail(RtpMidiFault.Command);
        _at += count;
        if (status < 0xF8) _running = status < 0xF0 ? status : 0;
        Message = new MidiMessage(status, new Midi7(count > 0 ? data[0] : 0), new Midi7(count > 1 ? data[1] : 0));
        return true;
    }

    private bool Exclusive()
    {
        _running = 0;
        var length = _list[_at..].IndexOfAnyInRange((byte)0x80, (byte)0xFF);
        if (length < 0) return Fail(RtpMidiFault.Truncated);
        if (_list[_at + length] is not (0xF0 or 0xF7 or 0xF4)) return Fail(RtpMidiFault.Command);
        Segment = _list.Slice(_at - 1, length + 2);
        _at += length + 1;
        Message = new MidiMessage((int)MidiKind.SystemExclusive);
        return true;
    }

    private bool Fail(RtpMidiFault fault)
    {
        Fault = fault;
        return false;
    }
}
