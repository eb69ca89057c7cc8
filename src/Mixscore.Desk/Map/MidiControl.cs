using System.Globalization;

namespace Mixscore.Desk;

/// <summary>A control that is set by MIDI messages.</summary>
/// <param name="Kind">What kind.</param>
/// <param name="Channel">1 to 16.</param>
/// <param name="Parameter">The number of the control or of the parameter; <c>null</c> for pitch bend.</param>
/// <param name="Bits">7 or 14.</param>
public sealed record MidiControl(MidiKind Kind, StripTemplate Channel, StripTemplate? Parameter, int Bits) : DeskControl
{
    /// <inheritdoc/>
    public override WireNumber Number => WireNumber.Whole;

    /// <summary>The greatest value: 127 or 16383.</summary>
    public int Greatest => (1 << Bits) - 1;

    /// <summary>The greatest number that its control or parameter may have.</summary>
    /// <remarks>Controls from 120 on are channel mode messages; only 0 to 31 have a partner for the low byte (MIDI 1.0, control changes).</remarks>
    public int GreatestParameter => (Kind, Bits) switch
    {
        (MidiKind.Control, 14) => 31,
        (MidiKind.Control, _) => 119,
        (MidiKind.Nrpn, _) => 16383,
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
            return string.Create(culture, $"strip {strip} would be {(Kind == MidiKind.Nrpn ? "parameter" : "control")} {parameter.For(strip) ?? "?"}; with {Bits} bits it must be 0 to {GreatestParameter}");
        return null;
    }

    /// <inheritdoc/>
    public override int BytesOf(int strip) => At(strip).Bytes;

    /// <summary>The address of a strip's control.</summary>
    /// <param name="strip">From 1.</param>
    /// <exception cref="ArgumentException">The strip has no address.</exception>
    public MidiAddress At(int strip) => ProblemOf(strip) is { } problem
        ? throw new ArgumentException(problem, nameof(strip))
        : new MidiAddress(Kind, Channel.NumberFor(strip)!.Value, Parameter?.NumberFor(strip) ?? 0, Bits);
}
