using System.Globalization;
using Mixscore.Protocols.Osc;

namespace Mixscore.Desk;

/// <summary>A control that is set by an OSC message with one number.</summary>
/// <param name="Address">Such as <c>/strip/{strip}/fader</c>.</param>
/// <param name="Tag"><see cref="OscTag.Float32"/>, <see cref="OscTag.Float64"/> or <see cref="OscTag.Int32"/>.</param>
public sealed record OscControl(StripTemplate Address, OscTag Tag) : DeskControl
{
    /// <inheritdoc/>
    public override WireNumber Number => Tag switch
    {
        OscTag.Int32 => WireNumber.Whole,
        OscTag.Float64 => WireNumber.Real64,
        _ => WireNumber.Real32,
    };

    /// <inheritdoc/>
    public override string? NameOf(int strip) => ProblemOf(strip) is null ? Address.For(strip) : null;

    /// <inheritdoc/>
    public override string? ProblemOf(int strip) => Address.For(strip) switch
    {
        null => string.Create(CultureInfo.InvariantCulture, $"\"{Address}\" has no answer for strip {strip}"),
        var address when !OscAddress.IsValid(address) => $"\"{address}\" is not an OSC address",
        _ => null,
    };

    /// <inheritdoc/>
    public override int BytesOf(int strip) => OscCodec.EncodedLength(Message(strip, 0));

    /// <summary>The message that sets a strip's control.</summary>
    /// <param name="strip">From 1.</param>
    /// <param name="value">Rounded to what the tag carries.</param>
    /// <exception cref="ArgumentException">The strip has no address.</exception>
    public OscMessage Message(int strip, double value)
    {
        var address = NameOf(strip) ?? throw new ArgumentException(ProblemOf(strip), nameof(strip));
        return new OscMessage(address, Tag switch
        {
            OscTag.Int32 => OscArgument.Of((int)Math.Round(value)),
            OscTag.Float64 => OscArgument.Of(value),
            _ => OscArgument.Of((float)value),
        });
    }
}
