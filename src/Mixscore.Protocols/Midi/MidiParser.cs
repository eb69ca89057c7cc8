namespace Mixscore.Protocols.Midi;

/// <summary>
/// Takes messages out of a stream of MIDI 1.0 bytes, however they are split: running status, real-time bytes in the midst
/// of other messages, system exclusive up to a limit. Wrong bytes are counted and passed over. Takes no memory after it is
/// made. Not safe for several threads.
/// </summary>
public sealed class MidiParser
{
    private const int ExclusiveEnd = 0xF7;
    private const int FirstRealTime = 0xF8;

    private readonly byte[] _exclusive;
    private int _exclusiveFilled;
    private bool _inExclusive;
    private bool _exclusiveTooLong;
    private int _status;
    private Midi7 _data1;
    private int _dataFilled;
    private bool _isOpen;

    /// <summary>A parser at the beginning of a stream.</summary>
    /// <param name="longestExclusive">Most bytes of a system exclusive message, F0 and F7 not counted; the memory is taken
    /// at once.</param>
    public MidiParser(int longestExclusive = 1024)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(longestExclusive);
        _exclusive = new byte[longestExclusive];
    }

    /// <summary>The last system exclusive message, between F0 and F7; good until the next call of <see cref="Read"/>.</summary>
    public ReadOnlySpan<byte> Exclusive => _exclusive.AsSpan(0, _exclusiveFilled);

    /// <summary>Faults so far.</summary>
    public long Faults { get; private set; }

    /// <summary>The last fault.</summary>
    public MidiFault LastFault { get; private set; }

    /// <summary>Takes bytes off the front of the input until a message is whole. Call again until it returns false.</summary>
    /// <param name="input">What arrived; on return, what is left of it.</param>
    /// <param name="message">The message; for <see cref="MidiKind.SystemExclusive"/> see <see cref="Exclusive"/>.</param>
    /// <returns>True when there is a message; false when more bytes are needed.</returns>
    public bool Read(ref ReadOnlySpan<byte> input, out MidiMessage message)
    {
        for (var i = 0; i < input.Length; i++)
        {
            if (!Take(input[i], out message)) continue;
            input = input[(i + 1)..];
            return true;
        }
        input = default;
        message = default;
        return false;
    }

    private bool Take(byte octet, out MidiMessage message)
    {
        message = default;
        if (octet < 0x80) return TakeData(octet, out message);
        if (octet >= FirstRealTime)
        {
            // MIDI 1.0, system real time: may stand anywhere and leaves running status as it was.
            if (octet is 0xF9 or 0xFD) return Count(MidiFault.UndefinedStatus);
            message = new MidiMessage(octet);
            return true;
        }
        if (_isOpen) Count(MidiFault.MessageCutShort);
        if (octet == ExclusiveEnd) return EndExclusive(out message);
        if (_inExclusive) Count(MidiFault.ExclusiveCutShort);
        (_inExclusive, _isOpen, _dataFilled, _status) = (false, false, 0, 0);
        switch (octet)
        {
            case 0xF0:
                (_inExclusive, _exclusiveTooLong, _exclusiveFilled) = (true, false, 0);
                return false;
            case 0xF4 or 0xF5:
                return Count(MidiFault.UndefinedStatus);
            case 0xF6:
                message = new MidiMessage(octet);
                return true;
            default:
                (_status, _isOpen) = (octet, true);
                return false;
        }
    }

    private bool TakeData(byte octet, out MidiMessage message)
    {
        message = default;
        if (_inExclusive)
        {
            if (_exclusiveFilled < _exclusive.Length) _exclusive[_exclusiveFilled++] = octet;
            else _exclusiveTooLong = true;
            return false;
        }
        if (_status == 0) return Count(MidiFault.DataWithoutStatus);
        var data = new Midi7(octet);
        if (MidiMessage.DataBytes(_status) == 2 && _dataFilled == 0)
        {
            (_data1, _dataFilled, _isOpen) = (data, 1, true);
            return false;
        }
        message = _dataFilled == 0 ? new MidiMessage(_status, data) : new MidiMessage(_status, _data1, data);
        (_dataFilled, _isOpen) = (0, false);
        // MIDI 1.0, running status: channel messages only; a system common message ends it.
        if (_status >= 0xF0) _status = 0;
        return true;
    }

    private bool EndExclusive(out MidiMessage message)
    {
        message = default;
        var open = _inExclusive;
        (_inExclusive, _isOpen, _dataFilled, _status) = (false, false, 0, 0);
        if (!open) return Count(MidiFault.EndWithoutExclusive);
        if (_exclusiveTooLong) return Count(MidiFault.ExclusiveTooLong);
        message = new MidiMessage((int)MidiKind.SystemExclusive);
        return true;
    }

    private bool Count(MidiFault fault)
    {
        Faults++;
        LastFault = fault;
        return false;
    }
}
