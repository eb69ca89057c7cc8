namespace Mixscore.Protocols.Midi;

/// <summary>
/// Puts 14-bit values together from single messages: controllers 0 to 31 with their low bytes, parameters with data entry,
/// pitch bend. Either byte alone makes a value: a high byte takes its low byte as 0, a low byte keeps the high byte that
/// stands. Data increment and decrement (96, 97) make none. Controllers 32 to 63 are taken as low bytes; where a desk
/// uses them for 7-bit values, read its messages directly. Takes no memory after it is made.
/// </summary>
public sealed class MidiAssembler
{
    private const int ResetControllers = 121;

    private readonly Midi7[] _high = new Midi7[MidiChannel.Count * MidiEncoder.LowByteOffset];
    private readonly Selection[] _selected = new Selection[MidiChannel.Count];

    /// <summary>Takes a message.</summary>
    /// <returns>True when it makes a value; false for messages of other kinds, selections, resets.</returns>
    public bool Take(MidiMessage message, out MidiValue value)
    {
        value = default;
        if (message.Channel is not { } channel) return false;
        if (message.Kind == MidiKind.PitchBend)
        {
            value = new MidiValue(MidiTarget.PitchBend, channel, 0, message.Wide, AwaitsLow: false);
            return true;
        }
        return message.Kind == MidiKind.ControlChange && TakeController(channel, message.Data1.Value, message.Data2, out value);
    }

    private bool TakeController(MidiChannel channel, int controller, Midi7 data, out MidiValue value)
    {
        value = default;
        ref var selected = ref _selected[channel.Nibble];
        switch (controller)
        {
            case MidiEncoder.NrpnHigh or MidiEncoder.RpnHigh:
                selected = selected.Select(TargetOf(controller), data, low: null);
                return false;
            case MidiEncoder.NrpnLow or MidiEncoder.RpnLow:
                selected = selected.Select(TargetOf(controller), high: null, data);
                return false;
            case MidiEncoder.DataEntry when selected.IsActive:
                selected = selected with { Entry = data };
                value = new MidiValue(selected.Target, channel, selected.Number, new Midi14(data, default), AwaitsLow: true);
                return true;
            case MidiEncoder.DataEntry + MidiEncoder.LowByteOffset when selected.IsActive:
                value = new MidiValue(selected.Target, channel, selected.Number, new Midi14(selected.Entry, data), AwaitsLow: false);
                return true;
            case 96 or 97:
                return false;
            case ResetControllers:
                // RP-015: the selection returns to null; values that a reset changes are not announced.
                selected = default;
                return false;
            default:
                value = Controller(channel, controller, data);
                return true;
        }
    }

    private MidiValue Controller(MidiChannel channel, int controller, Midi7 data)
    {
        var isLow = controller is >= MidiEncoder.LowByteOffset and < 2 * MidiEncoder.LowByteOffset;
        var number = isLow ? controller - MidiEncoder.LowByteOffset : controller;
        if (number >= MidiEncoder.LowByteOffset)
            return new MidiValue(MidiTarget.Controller, channel, number, new Midi14(data, default), AwaitsLow: false);
        ref var high = ref _high[(channel.Nibble * MidiEncoder.LowByteOffset) + number];
        if (!isLow) high = data;
        return new MidiValue(MidiTarget.Controller, channel, number, new Midi14(high, isLow ? data : default), AwaitsLow: !isLow);
    }

    private static MidiTarget TargetOf(int controller) =>
        controller is MidiEncoder.NrpnHigh or MidiEncoder.NrpnLow ? MidiTarget.Nrpn : MidiTarget.Rpn;

    // The default is "nothing selected". Parameter 7F 7F is the null that deselects (MIDI 1.0, RPN).
    private readonly record struct Selection(MidiTarget Target, Midi7 High, Midi7 Low, Midi7 Entry, bool IsSet)
    {
        public int Number => new Midi14(High, Low).Value;

        public bool IsActive => IsSet && Number != Midi14.Largest;

        // One byte alone keeps the other; another parameter begins with data entry 0.
        public Selection Select(MidiTarget target, Midi7? high, Midi7? low)
        {
            var from = IsSet && Target == target ? this : default;
            var next = new Selection(target, high ?? from.High, low ?? from.Low, default, IsSet: true);
            return next.Number == Number && IsSet && Target == target ? next with { Entry = Entry } : next;
        }
    }
}
