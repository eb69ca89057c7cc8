namespace Mixscore.Protocols.Midi;

/// <summary>
/// Where a sender of MIDI timecode is. A label takes eight messages, in order, up or down, so it is complete only when it
/// is nearly two frames old; the position given here is that of the message just taken, not of the label. No time is read
/// here: who needs a speed notes when each message came.
/// </summary>
public sealed class TimecodeFollower
{
    private const int AllPieces = 0xFF;

    private readonly byte[] _nibbles = new byte[TimecodeQuarterFrame.PerLabel];
    private int _seen;
    private int _last = -1;

    /// <summary>The last complete label, as it was sent; <c>null</c> before the first.</summary>
    public Timecode? Label { get; private set; }

    /// <summary>Quarter frames from 00:00:00:00 to the last message; <c>null</c> while no label is complete, and after a
    /// message out of order until the next complete label.</summary>
    public long? Quarter { get; private set; }

    /// <summary>The label two frames on (back, when running backwards), to be shown when the last of eight messages comes;
    /// the label itself after a full message; <c>null</c> before the first.</summary>
    public Timecode? Shown => Label?.Plus(2 * Direction);

    /// <summary>1 when running, −1 when running backwards, 0 when a full message set the place.</summary>
    public int Direction { get; private set; }

    /// <summary>Takes a quarter frame message.</summary>
    /// <returns>True when <see cref="Quarter"/> is known after it; false for other messages too.</returns>
    public bool Take(MidiMessage message)
    {
        if (message.Kind != MidiKind.QuarterFrame) return false;
        var piece = message.Data1.Value >> 4;
        var step = Step(piece);
        if (step == 0 || (Direction != 0 && step != Direction)) Forget();
        _last = piece;
        _nibbles[piece] = (byte)(message.Data1.Value & 0x0F);
        _seen |= 1 << piece;
        if (step != 0) Direction = step;
        if (Quarter is { } before) Quarter = Round(before + step);
        // Only eight in a row that end where a label ends are one label: mixed halves of two are none.
        if (Direction != 0 && piece == (Direction < 0 ? 0 : TimecodeQuarterFrame.PerLabel - 1))
        {
            if (_seen == AllPieces) Complete(piece);
            _seen = 0;
        }
        return Quarter is not null;
    }

    /// <summary>Takes the label of a full message: the sender stands there.</summary>
    public void Place(Timecode label)
    {
        Forget();
        (_last, Direction, Label) = (-1, 0, label);
        Quarter = label.Index * TimecodeQuarterFrame.PerFrame;
    }

    private int Step(int piece)
    {
        if (_last < 0) return 0;
        return ((piece - _last + TimecodeQuarterFrame.PerLabel) % TimecodeQuarterFrame.PerLabel) switch
        {
            1 => 1,
            TimecodeQuarterFrame.PerLabel - 1 => -1,
            _ => 0,
        };
    }

    private void Forget() => (_seen, Quarter) = (0, null);

    private void Complete(int piece)
    {
        var rate = (TimecodeRate)((_nibbles[7] >> 1) & 3);
        var hours = _nibbles[6] | ((_nibbles[7] & 1) << 4);
        var (minutes, seconds) = (_nibbles[4] | (_nibbles[5] << 4), _nibbles[2] | (_nibbles[3] << 4));
        var frames = _nibbles[0] | ((_nibbles[1] & 1) << 4);
        if (!Timecode.IsLabel(rate, hours, minutes, seconds, frames))
        {
            Quarter = null;
            return;
        }
        var label = new Timecode(rate, hours, minutes, seconds, frames);
        Label = label;
        Quarter = Round((label.Index * TimecodeQuarterFrame.PerFrame) + piece);
    }

    private long Round(long quarter)
    {
        var day = Timecode.FramesPerDay(Label!.Value.Rate) * TimecodeQuarterFrame.PerFrame;
        return ((quarter % day) + day) % day;
    }
}
