using System.Globalization;
using Mixscore.Protocols.Midi;

namespace Mixscore.Desk;

/// <summary>A control that is set by MIDI messages.</summary>
/// <param name="Target">A controller (with 14 bits, number n takes the high byte and n + 32 the low one), a non-registered parameter or pitch bend.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Parameter">The number of the control or of the parameter; <c>null</c> for pitch bend.</param>
/// <param name="Bits">7 or 14.</param>
public sealed record MidiControl(MidiTarget Target, StripTemplate Channel, StripTemplate? Parameter, int Bits) : DeskControl
{
    /// <inheritdoc/>
    public override WireNumber Number => WireNumber.Whole;

    /// <summary>The greatest value: 127 or 16383.</summary>
    public int Greatest => (1 << Bits) - 1;

    /// <summary>The greatest number that its control or parameter may have.</summary>
    /// <remarks>Controls from 120 on are channel mode messages; only 0 to 31 have a partner for the low byte (MIDI 1.0, control changes).</remarks>
    public int GreatestParameter => (Target, Bits) switch
    {
        (MidiTarget.Controller, 14) => 31,
        (MidiTarget.Controller, _) => 119,
        (MidiTarget.Nrpn, _) => 16383,
        _ => 0,
    };

    /// <inheritdoc/>
    public override string? NameOf(int strip) => ProblemOf(strip) is null ? At(strip).ToString() : null;

    /// <inheritdoc/>
    public override string? ProblemOf(int strip)
    {
        var culture = CultureInfo.InvariantCulture;
        if (Channel.NumberFor(strip) is not (>= 1 and <= 16))
            return string.Create(culture, $"strip {strip} would be on channel {Channel.For(strip) ?? "?"}; channels are 1 to 16");
        if (Parameter is { } parameter && !(parameter.NumberFor(strip) is { } number && number >= 0 && number <= GreatestParameter))
            return string.Create(culture, $"strip {strip} would be {(Target == MidiTarget.Nrpn ? "parameter" : "control")} {parameter.For(strip) ?? "?"}; with {Bits} bits it must be 0 to {GreatestParameter}");
        return null;
    }

    /// <inheritdoc/>
    public override int BytesOf(int strip) => At(strip).Bytes;

    /// <summary>The address of a strip's control.</summary>
    /// <param name="strip">From 1.</param>
    /// <exception cref="ArgumentException">The strip has no address.</exception>
    public MidiAddress At(int strip) => ProblemOf(strip) is { } problem
        ? throw new ArgumentException(problem, nameof(strip))
        : new MidiAddress(Target, Channel.NumberFor(strip)!.Value, Parameter?.NumberFor(strip) ?? 0, Bits);
}
