using System.Globalization;
using Mixscore.Protocols.Midi;

namespace Mixscore.Desk;

/// <summary>One control of one strip on a MIDI wire.</summary>
/// <param name="Target">A controller, a non-registered parameter or pitch bend.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Number">The number of the controller or of the parameter; 0 for pitch bend.</param>
/// <param name="Bits">7 or 14.</param>
public readonly record struct MidiAddress(MidiTarget Target, int Channel, int Number, int Bits)
{
    /// <summary>The most bytes that one change takes.</summary>
    public const int MostBytes = MidiEncoder.ParameterBytes;

    /// <summary>A message of a status byte and two data bytes.</summary>
    private const int MessageBytes = 3;

    /// <summary>How many bytes one change takes on the wire, every message with its status byte.</summary>
    public int Bytes => (Target, Bits) switch
    {
        (MidiTarget.Nrpn, 14) => MidiEncoder.ParameterBytes,
        (MidiTarget.Nrpn, _) => MidiEncoder.ParameterBytes - MessageBytes,
        (MidiTarget.Controller, 14) => MidiEncoder.ControlChange14Bytes,
        _ => MessageBytes,
    };

    /// <summary>Writes the messages that set the control, the high byte of the value before the low one.</summary>
    /// <param name="value">0 to 127 or 16383.</param>
    /// <param name="to">At least <see cref="Bytes"/> long.</param>
    /// <returns>How many bytes were written.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value has more bits than the control.</exception>
    /// <exception cref="ArgumentException">They do not fit.</exception>
    public int Write(int value, Span<byte> to)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(value, 1 << Bits);
        var channel = new MidiChannel(Channel);
        switch (Target, Bits)
        {
            case (MidiTarget.PitchBend, _):
                return MidiMessage.PitchBend(channel, new Midi14(value)).Write(to);
            case (MidiTarget.Controller, 14):
                return MidiEncoder.ControlChange14(to, channel, new Midi7(Number), new Midi14(value));
            case (MidiTarget.Controller, _):
                return MidiMessage.ControlChange(channel, new Midi7(Number), new Midi7(value)).Write(to);
            case (MidiTarget.Nrpn, 14):
                return MidiEncoder.Nrpn(to, channel, new Midi14(Number), new Midi14(value));
            default:
                // A parameter of 7 bits is the same without its last message, the low byte.
                Span<byte> all = stackalloc byte[MostBytes];
                MidiEncoder.Nrpn(all, channel, new Midi14(Number), new Midi14(new Midi7(value), default));
                all[..Bytes].CopyTo(to);
                return Bytes;
        }
    }

    /// <summary>Such as <c>channel 1 control 0</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"channel {Channel} {Target switch
    {
        MidiTarget.Controller => $"control {Number}",
        MidiTarget.Nrpn => $"parameter {Number}",
        _ => "pitch bend",
    }}");
}
