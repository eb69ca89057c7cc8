using CsCheck;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Osc;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Map;

public class DeskMapReaderTests
{
    [Fact]
    public void Both_examples_of_the_design_are_read()
    {
        var maps = DeskMapReader.Parse(Maps.Both, "hall.desk.yaml");
        Assert.Equal(2, maps.Count);

        var osc = maps[0];
        Assert.Equal(("A desk that speaks OSC", DeskProtocol.Osc), (osc.Title, osc.Protocol));
        Assert.Equal(("udp://127.0.0.1:9000", "udp://127.0.0.1:9001"), (osc.To.ToString(), osc.Listen!.ToString()));
        Assert.Equal(new OscMessage("/strip/3/fader", 0.75f), ((OscControl)osc.Fader.Control).Message(3, osc.Fader.Law.Sent(Loudness.Decibels.Zero)));
        Assert.Equal(5, osc.Fader.Law.Points.Count);
        Assert.Equal(new OscMessage("/strip/3/on", 1), ((OscControl)osc.Mute!.Control).Message(3, osc.Mute.On));
        Assert.Equal((1.0, 0.0), (osc.Mute.On, osc.Mute.Off));

        var midi = maps[1];
        Assert.Equal((DeskProtocol.Midi, Carrier.RtpMidi), (midi.Protocol, midi.To.Carrier));
        Assert.Null(midi.Listen);
        Assert.Null(midi.Mute);
        Assert.Equal(new MidiAddress(MidiTarget.Controller, 1, 2, 14), ((MidiControl)midi.Fader.Control).At(3));
        Assert.Equal(12288, midi.Fader.Law.Sent(Loudness.Decibels.Zero));
        Assert.Equal(new Place("hall.desk.yaml", 10, 1), midi.Place);
    }

    [Theory]
    [InlineData("nrpn: \"{strip + 100}\"", MidiTarget.Nrpn, 1, 103, 14)]
    [InlineData("nrpn: \"{strip + 100}\", bits: 7, channel: 4", MidiTarget.Nrpn, 4, 103, 7)]
    [InlineData("pitch-bend: true", MidiTarget.PitchBend, 3, 0, 14)]
    [InlineData("pitch-bend: true, channel: \"{strip + 8}\"", MidiTarget.PitchBend, 11, 0, 14)]
    [InlineData("control: 7, channel: \"{strip}\"", MidiTarget.Controller, 3, 7, 7)]
    [InlineData("control: \"{(strip - 1) % 8}\", channel: \"{(strip - 1) / 8 + 1}\", bits: 14", MidiTarget.Controller, 1, 2, 14)]
    public void Every_kind_of_midi_fader_is_read(string keys, MidiTarget kind, int channel, int parameter, int bits)
    {
        var map = DeskMapReader.Parse(MidiWith(keys), "hall.desk.yaml")[0];
        Assert.Equal(new MidiAddress(kind, channel, parameter, bits), ((MidiControl)map.Fader.Control).At(3));
    }

    // Every mistake at its own place: the sign ‸ stands where a person must go to, and is taken out before reading.
    [Theory]
    [InlineData("protocol: osc", "protocol: ‸ocs", "MX301")]
    [InlineData("protocol: osc\n", "", "MX107")]
    [InlineData("title: A desk that speaks OSC", "‸titel: A desk", "MX105")]
    [InlineData("to: udp://127.0.0.1:9000", "to: ‸127.0.0.1:9000", "MX302")]
    [InlineData("to: udp://127.0.0.1:9000", "to: ‸rtp-midi://127.0.0.1:9000", "MX303")]
    [InlineData("listen: udp://127.0.0.1:9001", "listen: ‸udp://127.0.0.1", "MX302")]
    [InlineData("listen: udp://127.0.0.1:9001", "‸to: udp://127.0.0.1:9001", "MX106")]
    [InlineData("\"/strip/{strip}/fader\"", "‸\"/strip/{stripe}/fader\"", "MX304")]
    [InlineData("\"/strip/{strip}/fader\"", "‸\"strip/{strip}/fader\"", "MX304")]
    [InlineData("\"/strip/{strip}/fader\"", "‸\"/strip/1/fader\"", "MX305")]
    [InlineData("type: f", "type: ‸q", "MX306")]
    [InlineData("off: 0.0", "off: ‸shut", "MX308")]
    [InlineData("off: 0.0,\n           law: [[", "off: 0.3, law: ‸[[", "MX307")]
    [InlineData("fader: { address: \"/strip/{strip}/fader\", type: f, off: 0.0", "‸fader: { address: \"/strip/{strip}/fader\", type: f", "MX107")]
    [InlineData("[-30, 0.25]", "‸[-70, 0.25]", "MX307")]
    [InlineData("[-30, 0.25]", "‸[-30, 0.04]", "MX307")]
    [InlineData("[-30, 0.25]", "‸[-60, 0.25]", "MX307")]
    [InlineData("[-30, 0.25]", "‸[-30]", "MX307")]
    [InlineData("[-30, 0.25]", "[‸quiet, 0.25]", "MX307")]
    [InlineData("[-30, 0.25]", "[-30, ‸half]", "MX308")]
    [InlineData("[[-60, 0.05], [-30, 0.25], [-10, 0.5], [0, 0.75], [+10, 1.0]]", "‸[[-60, 0.05]]", "MX307")]
    [InlineData("[[-60, 0.05], [-30, 0.25], [-10, 0.5], [0, 0.75], [+10, 1.0]]", "‸straight", "MX307")]
    [InlineData("type: i, on: 1", "type: i, on: ‸0.5", "MX308")]
    [InlineData("mute:  { address: \"/strip/{strip}/on\", type: i, on: 1", "‸mute:  { address: \"/strip/{strip}/on\", type: i", "MX107")]
    [InlineData("mute:  {", "‸mutes: {", "MX105")]
    public void A_mistake_in_an_osc_map_is_named_with_its_place(string right, string wrong, string code) => AssertFault(Maps.Osc, right, wrong, code);

    [Theory]
    [InlineData("to: rtp-midi://127.0.0.1:5004", "to: ‸udp://127.0.0.1:5004", "MX303")]
    [InlineData("channel: 1", "channel: ‸17", "MX304")]
    [InlineData("channel: 1", "channel: ‸one", "MX304")]
    [InlineData("control: \"{strip - 1}\"", "control: ‸\"{strip - }\"", "MX304")]
    [InlineData("control: \"{strip - 1}\"", "control: ‸40", "MX304")]
    [InlineData("control: \"{strip - 1}\"", "control: ‸7", "MX305")]
    [InlineData("fader: { channel: 1, control: \"{strip - 1}\"", "‸fader: { channel: 1", "MX309")]
    [InlineData("control: \"{strip - 1}\"", "control: \"{strip - 1}\", ‸pitch-bend: true", "MX309")]
    [InlineData("control: \"{strip - 1}\"", "control: \"{strip - 1}\", pitch-bend: ‸yes", "MX309")]
    [InlineData("control: \"{strip - 1}\", bits: 14", "control: \"{strip - 1}\", bits: ‸12", "MX310")]
    [InlineData("channel: 1, control: \"{strip - 1}\", bits: 14", "pitch-bend: true, bits: ‸7", "MX310")]
    [InlineData("[0, 12288]", "[0, ‸12288.5]", "MX308")]
    [InlineData("[+10, 16383]", "[+10, ‸16384]", "MX308")]
    [InlineData("off: 0", "off: ‸-1", "MX308")]
    [InlineData("off: 0", "‸address: /a, off: 0", "MX105")]
    public void A_mistake_in_a_midi_map_is_named_with_its_place(string right, string wrong, string code) => AssertFault(Maps.Midi, right, wrong, code);

    [Fact]
    public void All_mistakes_of_all_maps_are_said_at_once_in_the_order_of_the_lines()
    {
        var text = Maps.Both.Replace("type: f", "type: q", StringComparison.Ordinal).Replace("channel: 1", "channel: 0", StringComparison.Ordinal).Replace("on: 1", "on: x", StringComparison.Ordinal);
        var faults = Assert.Throws<InputException>(() => DeskMapReader.Parse(text, "hall.desk.yaml")).Faults;
        Assert.Equal([("MX306", 6), ("MX308", 8), ("MX304", 14)], faults.Select(fault => (fault.Code, fault.Place.Line)));
        Assert.All(faults, fault => Assert.True(fault.Remedy.Length > 0 && fault.Place.File == "hall.desk.yaml" && fault.Place.Column > 0));
    }

    [Fact]
    public void A_file_on_disk_is_read_and_a_missing_one_is_an_io_fault()
    {
        var path = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.desk.yaml");
        File.WriteAllText(path, Maps.Both);
        try
        {
            Assert.Equal(2, DeskMapReader.Read(path).Count);
        }
        finally
        {
            File.Delete(path);
        }
        Assert.Throws<FileNotFoundException>(() => DeskMapReader.Read(path));
    }

    [Fact]
    public void The_maps_of_the_demo_are_read_and_valid()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Mixscore.sln"))) folder = folder.Parent;
        var files = Directory.GetFiles(Path.Combine(folder.FullName, "examples"), "*.desk.yaml");
        Assert.NotEmpty(files);
        foreach (var file in files)
        {
            Assert.NotEmpty(DeskMapReader.Read(file));
            Assert.All(DeskSchemaTests.Documents(File.ReadAllText(file)), document => Assert.True(DeskSchemaTests.IsValid(document)));
        }
    }

    // Fuzz: one character taken out, doubled or exchanged anywhere gives maps or faults with places, never another exception.
    [Fact]
    public void A_damaged_map_gives_maps_or_faults() => Gen.Select(Gen.Int[0, Maps.Both.Length - 1], Gen.Int[0, 2], Gen.Char["{}[]:,\"'-+ \n\t#&*!0a"]).Sample((at, how, sign) =>
    {
        var text = how switch
        {
            0 => Maps.Both.Remove(at, 1),
            1 => Maps.Both.Insert(at, sign.ToString()),
            _ => Maps.Both.Remove(at, 1).Insert(at, sign.ToString()),
        };
        try
        {
            Assert.NotEmpty(DeskMapReader.Parse(text, "hall.desk.yaml"));
        }
        catch (InputException refused)
        {
            Assert.All(refused.Faults, fault => Assert.True(fault.Place.Line > 0));
        }
    }, iter: 800);

    private static string MidiWith(string keys) => Maps.Midi.Replace("channel: 1, control: \"{strip - 1}\", bits: 14", keys, StringComparison.Ordinal)
        .Replace("[[-60, 800], [0, 12288], [+10, 16383]]", "[[-60, 1], [0, 100], [+10, 127]]", StringComparison.Ordinal);

    private static void AssertFault(string map, string right, string wrong, string code)
    {
        Assert.Contains(right, map, StringComparison.Ordinal);
        var marked = map.Replace(right, wrong, StringComparison.Ordinal);
        var before = marked[..Math.Max(0, marked.IndexOf('‸', StringComparison.Ordinal))].Split('\n');
        var place = new Place("hall.desk.yaml", before.Length, before[^1].Length + 1);
        var faults = Assert.Throws<InputException>(() => DeskMapReader.Parse(marked.Replace("‸", "", StringComparison.Ordinal), "hall.desk.yaml")).Faults;
        Assert.Contains((code, place), faults.Select(fault => (fault.Code, fault.Place)));
        Assert.All(faults, fault => Assert.NotEmpty(fault.Remedy));
    }
}
