namespace Mixscore.Protocols.Midi;

/// <summary>
/// Values that take several messages, each with its own status byte, so that a stretch can be cut anywhere between
/// messages. Every method returns the bytes written and throws <see cref="ArgumentException"/> when they do not fit.
/// </summary>
public static class MidiEncoder
{
    /// <summary>Bytes of <see cref="ControlChange14"/>.</summary>
    public const int ControlChange14Bytes = 6;

    /// <summary>Bytes of <see cref="Nrpn"/> and of <see cref="Rpn"/>.</summary>
    public const int ParameterBytes = 12;

    /// <summary>Controllers 0 to 31 carry a high byte whose low byte is 32 above (MIDI 1.0, controller numbers).</summary>
    public const int LowByteOffset = 32;

    internal const int DataEntry = 6;
    internal const int NrpnLow = 98;
    internal const int NrpnHigh = 99;
    internal const int RpnLow = 100;
    internal const int RpnHigh = 101;

    /// <summary>A controller's 14-bit value: the high byte, then the low byte 32 controllers above.</summary>
    /// <param name="destination">At least <see cref="ControlChange14Bytes"/>.</param>
    /// <param name="channel">The channel.</param>
    /// <param name="controller">0 to 31.</param>
    /// <param name="value">The value.</param>
    /// <exception cref="ArgumentOutOfRangeException">The controller has no low byte.</exception>
    public static int ControlChange14(Span<byte> destination, MidiChannel channel, Midi7 controller, Midi14 value)
    {
        if (controller.Value >= LowByteOffset)
            throw new ArgumentOutOfRangeException(nameof(controller), controller, "only controllers 0 to 31 have a low byte");
        Require(destination, ControlChange14Bytes);
        var at = Control(destination, channel, controller.Value, value.High);
        return at + Control(destination[at..], channel, controller.Value + LowByteOffset, value.Low);
    }

    /// <summary>A non-registered parameter: its number (controllers 99, 98), then data entry (6, 38).</summary>
    public static int Nrpn(Span<byte> destination, MidiChannel channel, Midi14 parameter, Midi14 value) =>
        Parameter(destination, channel, NrpnHigh, parameter, value);

    /// <summary>A registered parameter: its number (controllers 101, 100), then data entry (6, 38).</summary>
    public static int Rpn(Span<byte> destination, MidiChannel channel, Midi14 parameter, Midi14 value) =>
        Parameter(destination, channel, RpnHigh, parameter, value);

    private static int Parameter(Span<byte> destination, MidiChannel channel, int highController, Midi14 parameter, Midi14 value)
    {
        Require(destination, ParameterBytes);
        var at = Control(destination, channel, highController, parameter.High);
        at += Control(destination[at..], channel, highController - 1, parameter.Low);
        at += Control(destination[at..], channel, DataEntry, value.High);
        return at + Control(destination[at..], channel, DataEntry + LowByteOffset, value.Low);
    }

    private static int Control(Span<byte> destination, MidiChannel channel, int controller, Midi7 value) =>
        MidiMessage.ControlChange(channel, new Midi7(controller), value).Write(destination);

    private static void Require(Span<byte> destination, int bytes)
    {
        if (destination.Length < bytes) throw new ArgumentException($"the value takes {bytes} bytes", nameof(destination));
    }
}
