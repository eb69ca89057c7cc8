using System.Globalization;
using Mixscore.Desk.Tests.Map;
using Mixscore.Protocols.Midi;

namespace Mixscore.Desk.Tests.Files;

public partial class OutsideReadersTests
{
    // midicsv 1.1 and mido 1.2.10 (Debian), event by event: the same ticks, channels, numbers and values in both, and the
    // messages that each move takes, in order.
    [Theory]
    [InlineData("control: \"{strip + 6}\", bits: 7")]
    [InlineData("control: \"{strip - 1}\", bits: 14")]
    [InlineData("nrpn: \"{strip + 300}\", bits: 7, channel: 4")]
    [InlineData("nrpn: \"{strip + 300}\", bits: 14")]
    [InlineData("pitch-bend: true")]
    public void Both_readers_agree_on_every_kind_of_controller(string keys)
    {
        var greatest = keys.Contains("bits: 7", StringComparison.Ordinal) ? 127 : 16383;
        var text = Maps.Midi.Replace("channel: 1, control: \"{strip - 1}\", bits: 14", keys, StringComparison.Ordinal)
            .Replace("[[-60, 800], [0, 12288], [+10, 16383]]", string.Create(CultureInfo.InvariantCulture, $"[[-60, 1], [0, {greatest * 3 / 4}], [10, {greatest}]]"), StringComparison.Ordinal);
        var map = DeskMapReader.Parse(text, "hall.desk.yaml")[0];
        var timeline = Pieces.Of(Bent, (20, Score.Meter.Common));
        var moves = DeskMoves.Of(timeline, Pieces.Plan(2), [Pieces.Ride(1, (0, -40), (20, 0), (40, null), (80, null)), Pieces.Ride(2, (0, -3), (12, -30), (80, 5))], map);
        var file = MidiAutomation.Of(moves, timeline, "Night").Bytes.ToArray();
        const string script = """
            import sys, mido
            for number, track in enumerate(mido.MidiFile(sys.argv[1]).tracks):
                at = 0
                for m in track:
                    at += m.time
                    if m.type == 'control_change': print('%d, %d, Control_c, %d, %d, %d' % (number + 1, at, m.channel, m.control, m.value))
                    if m.type == 'pitchwheel': print('%d, %d, Pitch_bend_c, %d, %d' % (number + 1, at, m.channel, m.pitch + 8192))
            """;
        var mido = Run(file, "/usr/bin/python3", "-c", script).Split('\n', StringSplitOptions.RemoveEmptyEntries);
        var midicsv = Run(file, "midicsv").Split('\n').Where(line => line.Contains("Control_c", StringComparison.Ordinal) || line.Contains("Pitch_bend_c", StringComparison.Ordinal)).ToArray();
        Assert.Equal(midicsv, mido);

        var control = (MidiControl)map.Fader.Control;
        foreach (var (strip, track) in ((int, string)[])[(1, "2"), (2, "3")])
        {
            var expected = moves.Moves.Where(move => move.Source.Strip == strip).SelectMany(move => Events(control.At(strip), (int)move.Value));
            Assert.Equal(expected, midicsv.Where(line => line.StartsWith(track + ",", StringComparison.Ordinal)).Select(line => string.Join(", ", line.Split(", ")[2..])));
        }
    }

    // Written out by MIDI 1.0 from the number alone, without our encoder.
    private static IEnumerable<string> Events(MidiAddress address, int value)
    {
        var (channel, high, low) = (address.Channel - 1, address.Bits == 14 ? value >> 7 : value, value & 127);
        string Control(int number, int data) => string.Create(CultureInfo.InvariantCulture, $"Control_c, {channel}, {number}, {data}");
        return (address.Target, address.Bits) switch
        {
            (MidiTarget.PitchBend, _) => [string.Create(CultureInfo.InvariantCulture, $"Pitch_bend_c, {channel}, {value}")],
            (MidiTarget.Controller, 7) => [Control(address.Number, high)],
            (MidiTarget.Controller, _) => [Control(address.Number, high), Control(address.Number + 32, low)],
            (_, 7) => [Control(99, address.Number >> 7), Control(98, address.Number & 127), Control(6, high)],
            _ => [Control(99, address.Number >> 7), Control(98, address.Number & 127), Control(6, high), Control(38, low)],
        };
    }
}
