using System.Globalization;

namespace Mixscore.Desk;

/// <summary>One control of one strip on a MIDI wire.</summary>
/// <param name="Kind">What kind of message sets it.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Parameter">The number of the control or of the parameter; 0 for pitch bend.</param>
/// <param name="Bits">7 or 14.</param>
public readonly record struct MidiAddress(MidiKind Kind, int Channel, int Parameter, int Bits)
{
    /// <summary>The most bytes that one change takes.</summary>
    public const int MostBytes = 12;

    // MIDI 1.0, control change numbers: data entry 6 and 38, non-registered parameter number 98 (low) and 99 (high).
    private const int DataEntryHigh = 6, DataEntryLow = 38, ParameterLow = 98, ParameterHigh = 99, LowByteOf = 32;

    /// <summary>How many bytes one change takes on the wire, every message with its status byte.</summary>
    public int Bytes => (Kind, Bits) switch
    {
        (MidiKind.PitchBend, _) => 3,
        (MidiKind.Control, 14) => 6,
        (MidiKind.Control, _) => 3,
        (_, 14) => 12,
        _ => 9,
    };

    /// <summary>Writes the messages that set the control: three bytes each, high byte of the value before the low one.</summary>
    /// <param name="value">0 to 127 or 16383.</param>
    /// <param name="to">At least <see cref="Bytes"/> long.</param>
    /// <returns>How many bytes were written.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value has more bits than the control.</exception>
    public int Write(int value, Span<byte> to)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(value, 1 << Bits);
        var (high, low) = Bits == 14 ? (value >> 7, value & 0x7F) : (value, 0);
        if (Kind == MidiKind.PitchBend)
        {
            (to[0], to[1], to[2]) = ((byte)(0xE0 | (Channel - 1)), (byte)low, (byte)high);
            return 3;
        }
        var at = 0;
        if (Kind == MidiKind.Nrpn)
        {
            at = Change(to, at, ParameterHigh, Parameter >> 7);
            at = Change(to, at, ParameterLow, Parameter & 0x7F);
        }
        at = Change(to, at, Kind == MidiKind.Nrpn ? DataEntryHigh : Parameter, high);
        return Bits == 14 ? Change(to, at, Kind == MidiKind.Nrpn ? DataEntryLow : Parameter + LowByteOf, low) : at;
    }

    /// <summary>Such as <c>channel 1 control 0</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"channel {Channel} {Kind switch
    {
        MidiKind.Control => $"control {Parameter}",
        MidiKind.Nrpn => $"parameter {Parameter}",
        _ => "pitch bend",
    }}");

    private int Change(Span<byte> to, int at, int control, int value)
    {
        (to[at], to[at + 1], to[at + 2]) = ((byte)(0xB0 | (Channel - 1)), (byte)control, (byte)value);
        return at + 3;
    }
}
