using System.Text;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Osc;

namespace Mixscore.Desk;

/// <summary>Between values of strips and messages of a desk map, both ways, for the strips 1 to <see cref="MostStrips"/>. Takes no
/// memory after it is made. Reading is not safe for several threads.</summary>
internal sealed class StripAddresses
{
    /// <summary>How many strips a desk can have here; our own choice.</summary>
    public const int MostStrips = 256;

    private readonly Dictionary<(StripPart Part, int Strip), (DeskControl Control, byte[] Address, MidiAddress Midi)> _out = [];
    private readonly Dictionary<string, (StripPart Part, int Strip)> _osc = new(StringComparer.Ordinal);
    private readonly Dictionary<(MidiTarget Target, int Channel, int Number), (StripPart Part, int Strip, int Bits)> _midi = [];
    private readonly MidiAssembler _assembler = new();

    public StripAddresses(DeskMap map, DeskEnd end)
    {
        var isDesk = end == DeskEnd.Desk;
        AddAll(StripPart.Fader, isDesk ? map.Fader.Reported : map.Fader.Control, isDesk ? map.Fader.Control : map.Fader.Reported);
        if (map.Mute is { } mute) AddAll(StripPart.Mute, mute.Control, mute.Control);
        // Nobody sets a meter.
        if (map.Meter is { } meter) AddAll(StripPart.Meter, isDesk ? meter.Reported : null, isDesk ? null : meter.Reported);
    }

    /// <summary>Whether a control can be sent.</summary>
    public bool Has(StripPart part, int strip) => _out.ContainsKey((part, strip));

    /// <summary>One bundle, due at once, of the values that have an address and still fit.</summary>
    /// <param name="values">In order; on return, those that did not fit.</param>
    /// <param name="buffer">At least 64 bytes.</param>
    /// <returns>Bytes written.</returns>
    public int WriteOsc(ref ReadOnlySpan<StripValue> values, Span<byte> buffer)
    {
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        while (values.Length > 0)
        {
            if (_out.TryGetValue((values[0].Part, values[0].Strip), out var to) && to.Control is OscControl osc && !Write(ref writer, osc, to.Address, values[0].Value)) break;
            values = values[1..];
        }
        writer.EndBundle();
        return writer.Length;
    }

    /// <summary>The messages that set a value.</summary>
    /// <returns>Bytes written; 0 for a control without an address.</returns>
    public int WriteMidi(StripValue value, Span<byte> buffer) =>
        _out.TryGetValue((value.Part, value.Strip), out var to) && to.Control is MidiControl midi
            ? to.Midi.Write((int)Math.Clamp(Math.Round(value.Value), 0, midi.Greatest), buffer)
            : 0;

    /// <summary>How many bytes a change of a control takes on a MIDI wire; 0 for one without an address there.</summary>
    public int BytesOf(StripPart part, int strip) => _out.TryGetValue((part, strip), out var to) && to.Control is MidiControl ? to.Midi.Bytes : 0;

    /// <summary>The values in a packet that is well formed.</summary>
    public void ReadOsc(ReadOnlySpan<byte> packet, Action<StripValue> received)
    {
        Span<char> address = stackalloc char[256];
        var reader = new OscReader(packet);
        var known = _osc.GetAlternateLookup<ReadOnlySpan<char>>();
        while (reader.NextMessage())
        {
            if (reader.Address.Length > address.Length) continue;
            var length = Encoding.ASCII.GetChars(reader.Address, address);
            if (known.TryGetValue(address[..length], out var at) && reader.TryReadNumber(out var number) && double.IsFinite(number))
                received(new StripValue(at.Strip, at.Part, number));
        }
    }

    /// <summary>The value that a message completes, if it completes one.</summary>
    public bool ReadMidi(MidiMessage message, out StripValue value)
    {
        value = default;
        var isWhole = _assembler.Take(message, out var wide);
        // A 7-bit controller above 31 looks like the low byte of another, and is looked for by its own number first.
        if (message.Kind == MidiKind.ControlChange
            && _midi.TryGetValue((MidiTarget.Controller, message.Channel!.Value.Number, message.Data1.Value), out var plain) && plain.Bits == 7)
        {
            value = new StripValue(plain.Strip, plain.Part, message.Data2.Value);
            return true;
        }
        if (!isWhole || !_midi.TryGetValue((wide.Target, wide.Channel.Number, wide.Number), out var at)) return false;
        if (at.Bits == 14 && wide.AwaitsLow) return false;
        value = new StripValue(at.Strip, at.Part, at.Bits == 14 ? wide.Value.Value : wide.Value.High.Value);
        return true;
    }

    private static bool Write(ref OscWriter writer, OscControl control, byte[] address, double value)
    {
        writer.BeginMessage(address, control.Tag switch { OscTag.Int32 => "i"u8, OscTag.Float64 => "d"u8, _ => "f"u8 });
        if (control.Tag == OscTag.Int32) writer.Int32((int)Math.Round(value));
        else if (control.Tag == OscTag.Float64) writer.Float64(value);
        else writer.Float32((float)value);
        return writer.EndMessage();
    }

    private void AddAll(StripPart part, DeskControl? sent, DeskControl? heard)
    {
        for (var strip = 1; strip <= MostStrips; strip++)
        {
            if (sent?.NameOf(strip) is { } name) _out[(part, strip)] = (sent, Encoding.ASCII.GetBytes(name), sent is MidiControl wire ? wire.At(strip) : default);
            if (heard?.NameOf(strip) is not { } from) continue;
            if (heard is OscControl) _osc.TryAdd(from, (part, strip));
            else if (heard is MidiControl midi && midi.At(strip) is var at) _midi.TryAdd((at.Target, at.Channel, at.Number), (part, strip, at.Bits));
        }
    }
}
