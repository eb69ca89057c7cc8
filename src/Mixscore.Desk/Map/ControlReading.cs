using System.Globalization;
using Mixscore.Planning;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Osc;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>Reads how a control is addressed, and the values that it takes.</summary>
internal sealed class ControlReading(DeskProtocol protocol, FaultList faults)
{
    private static readonly string[] Kinds = ["control", "nrpn", "pitch-bend"];

    /// <summary>The keys that address a control in this protocol.</summary>
    public string[] Keys => protocol == DeskProtocol.Osc ? ["address", "type"] : ["channel", .. Kinds, "bits"];

    /// <summary>The control, or <c>null</c> with faults.</summary>
    /// <param name="section">Where its keys stand.</param>
    /// <param name="place">Where the section is named.</param>
    /// <param name="type">The OSC type that holds where none is written.</param>
    public DeskControl? Read(Section section, Place place, string type) => protocol == DeskProtocol.Osc ? Osc(section, type) : Midi(section, place);

    /// <summary>A value for the wire, or <c>null</c> with a fault.</summary>
    public double? Value(Section section, YamlPair? pair, DeskControl? control) =>
        section.Text(pair) is null ? null : Value((YamlText)pair!.Value, control);

    /// <summary>A value for the wire, or <c>null</c> with a fault.</summary>
    /// <param name="text">As written.</param>
    /// <param name="control">What must carry it; <c>null</c> where that is not known.</param>
    public double? Value(YamlText text, DeskControl? control)
    {
        var culture = CultureInfo.InvariantCulture;
        if (!double.TryParse(text.Value.Trim().Replace('\u2212', '-'), NumberStyles.Float, culture, out var value) || !double.IsFinite(value))
        {
            faults.Add(DeskFault.NotAValue, text.Place, $"\"{text.Value}\" is not a number", "write the number that goes on the wire");
            return null;
        }
        if (control is MidiControl midi && (value < 0 || value > midi.Greatest))
        {
            faults.Add(DeskFault.NotAValue, text.Place, string.Create(culture, $"{value} does not go into {midi.Bits} bits"), string.Create(culture, $"write a number from 0 to {midi.Greatest}"));
            return null;
        }
        if (control is { Number: WireNumber.Whole } && (value != Math.Round(value) || Math.Abs(value) > int.MaxValue))
        {
            faults.Add(DeskFault.NotAValue, text.Place, string.Create(culture, $"{value} is not a whole number of 32 bits"), "this control takes whole numbers only");
            return null;
        }
        if (control is { Number: WireNumber.Real32 } && !float.IsFinite((float)value))
        {
            faults.Add(DeskFault.NotAValue, text.Place, $"{text.Value} does not go into 32 bits", "write a number below 3.4e38");
            return null;
        }
        return value;
    }

    private static string KeyOf(MidiTarget kind) => kind switch
    {
        MidiTarget.Controller => Kinds[0],
        MidiTarget.Nrpn => Kinds[1],
        _ => Kinds[2],
    };

    private OscControl? Osc(Section section, string type)
    {
        var typePair = section["type"];
        OscTag? tag = (typePair is null ? type : section.Text(typePair)) switch { "f" => OscTag.Float32, "d" => OscTag.Float64, "i" => OscTag.Int32, _ => null };
        if (tag is null && typePair?.Value is YamlText { Value.Length: > 0 } written)
            faults.Add(DeskFault.NotAType, written.Place, $"\"{written.Value}\" is not a type of number", "write f (real, 32 bits), d (real, 64 bits) or i (whole, 32 bits)");
        var pair = section.Need("address", "write its OSC address, such as \"/strip/{strip}/fader\"");
        if (Template(section, pair) is not { } address) return null;
        if (!address.UsesStrip) NoStrip(pair!.Value.Place, address.Text, "put {strip} where the number of the strip belongs");
        else if (address.For(1) is { } first && !OscAddress.IsValid(first))
        {
            faults.Add(DeskFault.NotAnAddress, pair!.Value.Place, $"\"{first}\" is not an OSC address", "begin with / and leave out blanks and # * , ? [ ]");
            return null;
        }
        return tag is { } known ? new OscControl(address, known) : null;
    }

    private MidiControl? Midi(Section section, Place place)
    {
        var bend = section.Text(section["pitch-bend"]);
        if (bend is not (null or "true" or "false"))
            faults.Add(DeskFault.NotOneKind, section["pitch-bend"]!.Value.Place, $"\"{bend}\" is neither true nor false", "write \"pitch-bend: true\", or leave it out");
        List<MidiTarget> kinds = [];
        if (section["control"] is not null) kinds.Add(MidiTarget.Controller);
        if (section["nrpn"] is not null) kinds.Add(MidiTarget.Nrpn);
        if (bend == "true") kinds.Add(MidiTarget.PitchBend);
        if (kinds.Count != 1)
        {
            if (bend is null or "true" or "false")
                faults.Add(DeskFault.NotOneKind, kinds.Count == 0 ? place : section[KeyOf(kinds[1])]!.Key.Place,
                    kinds.Count == 0 ? "no kind of message is named" : $"\"{KeyOf(kinds[0])}\" and \"{KeyOf(kinds[1])}\" stand together", "write one of control, nrpn or pitch-bend: true");
            return null;
        }
        var kind = kinds[0];
        var bits = Bits(section, kind);
        var channelPair = section["channel"];
        var channel = channelPair is null ? StripTemplate.Parse(kind == MidiTarget.PitchBend ? "{strip}" : "1") : Template(section, channelPair);
        var parameterPair = kind == MidiTarget.PitchBend ? null : section[KeyOf(kind)];
        var parameter = parameterPair is null ? null : Template(section, parameterPair);
        if (bits is not { } known || channel is null || (parameterPair is not null && parameter is null)) return null;
        var control = new MidiControl(kind, channel, parameter, known);
        var numbers = Within(channel, channelPair, 1, 16, "a channel") & Within(parameter, parameterPair, 0, control.GreatestParameter, $"the number of a {known}-bit {KeyOf(kind)}");
        if (!channel.UsesStrip && parameter is not { UsesStrip: true })
            NoStrip(parameterPair?.Value.Place ?? channelPair?.Value.Place ?? place, parameter?.Text ?? channel.Text, "write arithmetic such as \"{strip - 1}\"");
        return numbers ? control : null;
    }

    private int? Bits(Section section, MidiTarget kind)
    {
        var pair = section["bits"];
        if (pair is null) return kind == MidiTarget.Controller ? 7 : 14;
        switch (section.Text(pair))
        {
            case null: return null;
            case "14": return 14;
            case "7" when kind != MidiTarget.PitchBend: return 7;
            case var other:
                faults.Add(DeskFault.NotBits, pair.Value.Place, $"\"{other}\" is not a number of bits that a {KeyOf(kind)} has", kind == MidiTarget.PitchBend ? "write 14, or leave it out" : "write 7 or 14");
                return null;
        }
    }

    /// <summary>Whether a template can be a number in a range; one that depends on the strip is judged when a plan names strips.</summary>
    private bool Within(StripTemplate? template, YamlPair? pair, int least, int most, string noun)
    {
        if (template is null || pair is null || template.For(1) is null) return true;
        var number = template.NumberFor(1);
        if (number is not null && (template.UsesStrip || (number >= least && number <= most))) return true;
        faults.Add(DeskFault.NotAnAddress, pair.Value.Place, $"\"{template}\" is not {noun}", string.Create(CultureInfo.InvariantCulture, $"write a number from {least} to {most}, or arithmetic such as \"{{strip - 1}}\""));
        return false;
    }

    private StripTemplate? Template(Section section, YamlPair? pair)
    {
        if (section.Text(pair) is not { } text) return null;
        if (StripTemplate.TryParse(text, out var template, out var problem)) return template;
        faults.Add(DeskFault.NotAnAddress, pair!.Value.Place, problem!, "a formula stands in braces, such as {strip}, {strip - 1} or {strip:00}");
        return null;
    }

    private void NoStrip(Place place, string text, string remedy) =>
        faults.Add(DeskFault.NoStrip, place, $"\"{text}\" is the same for every strip", remedy);
}
