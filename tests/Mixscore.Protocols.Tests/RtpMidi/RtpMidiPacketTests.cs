using CsCheck;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Tests.Midi;

namespace Mixscore.Protocols.Tests.RtpMidi;

public sealed class RtpMidiPacketTests
{
    private const string Header = "80e10102 00000304 05060708";

    private static readonly Gen<(MidiMessage Message, uint Delta)> GenEntry = Gen.Select(Gen.Int[0, 5], Gen.Int[0, 127], Gen.Int[0, 127],
        Gen.OneOf(Gen.Const(0u), Gen.UInt[0, 300], Gen.UInt[0, 0x0FFF_FFFF]),
        (kind, a, b, delta) => (Make(kind, new Midi7(a), new Midi7(b)), delta));

    // RFC 6295, section 2.1, as a public summary of it gives the header: version 2, marker, payload type 97.
    [Fact]
    public void A_packet_is_header_command_section_and_journal()
    {
        var bytes = new byte[32];
        var header = new RtpMidiHeader(0x0102, 0x0304, 0x05060708);
        var length = RtpMidiPacket.Write(bytes, header, MidiParserTests.Hex("90407f"), startsWithDelta: false, []);
        Assert.Equal(Header.Replace(" ", "", StringComparison.Ordinal) + "0390407f", Convert.ToHexStringLower(bytes.AsSpan(0, length)));
        length = RtpMidiPacket.Write(bytes, header, [], startsWithDelta: false, [0x80, 0, 1]);
        Assert.Equal("806101020000030405060708" + "40800001", Convert.ToHexStringLower(bytes.AsSpan(0, length)));
    }

    // Command lists derived from RFC 6295, section 3: one note; two with running status, the second 10 ticks later; a delta
    // before the first with the Z bit. Then system exclusive, whole and in segments, and a real-time message between.
    [Theory]
    [InlineData("03 90 40 7f", "0 90 40 7f")]
    [InlineData("06 90 40 7f 0a 43 7f", "0 90 40 7f|10 90 43 7f")]
    [InlineData("25 81 00 90 40 7f", "128 90 40 7f")]
    [InlineData("00", "")]
    [InlineData("04 90 40 7f 05", "0 90 40 7f")]
    [InlineData("08 90 40 7f 01 f8 02 43 7f", "0 90 40 7f|1 f8|2 90 43 7f")]
    [InlineData("09 f0 01 f7 00 f0 02 f0 01 f8", "0 f001f7|0 f002f0|1 f8")]
    [InlineData("07 f7 03 f0 00 f7 f7 00", "0 f703f0|0 f7f7")]
    public void A_list_is_read_command_by_command(string section, string expected) =>
        Assert.Equal((expected, RtpMidiFault.None), Read(Header + section));

    [Theory]
    [InlineData("", RtpMidiFault.Truncated)]
    [InlineData("80", RtpMidiFault.Truncated)]
    [InlineData("04 90 40 7f", RtpMidiFault.ListLength)]
    [InlineData("81 00 90 40 7f", RtpMidiFault.ListLength)]
    [InlineData("02 90 40", RtpMidiFault.Truncated)]
    [InlineData("02 40 7f", RtpMidiFault.Command)]
    [InlineData("03 90 40 80", RtpMidiFault.Command)]
    [InlineData("01 f4", RtpMidiFault.Command)]
    [InlineData("02 f0 01", RtpMidiFault.Truncated)]
    [InlineData("03 f0 01 90", RtpMidiFault.Command)]
    [InlineData("25 80 80 80 80 00", RtpMidiFault.DeltaTime)]
    [InlineData("21 80", RtpMidiFault.Truncated)]
    [InlineData("09 90 40 7f 00 f6 00 40 7f 00", RtpMidiFault.Command)]
    public void A_malformed_packet_has_its_fault(string section, RtpMidiFault expected) =>
        Assert.Equal(expected, Read(Header + section).Fault);

    [Theory]
    [InlineData("00610102 00000304 05060708 00", RtpMidiFault.Version)]
    [InlineData("80610102 00000304", RtpMidiFault.Truncated)]
    [InlineData("8f610102 00000304 05060708 00", RtpMidiFault.Truncated)]
    [InlineData("90610102 00000304 05060708 00", RtpMidiFault.Truncated)]
    [InlineData("a0610102 00000304 05060708 ff", RtpMidiFault.Truncated)]
    public void A_malformed_header_has_its_fault(string packet, RtpMidiFault expected) => Assert.Equal(expected, Read(packet).Fault);

    // RFC 3550, section 5.1: contributing sources, an extension and padding are passed over.
    [Fact]
    public void What_RTP_allows_around_the_payload_is_passed_over() => Assert.Equal(("0 90 40 7f", RtpMidiFault.None),
        Read("b1610102 00000304 05060708 0a0a0a0a be de 0001 01020304 03 90 40 7f 00 00 03"));

    [Fact]
    public void What_is_listed_is_read() => GenEntry.Array[0, 40].Sample(entries =>
    {
        var writer = new RtpMidiListWriter(new byte[400]);
        foreach (var (message, delta) in entries) Assert.True(writer.Add(message, delta));
        var bytes = new byte[500];
        var length = RtpMidiPacket.Write(bytes, new RtpMidiHeader(1, 2, 3), writer.Written, writer.StartsWithDelta, [1, 2, 3]);
        Assert.True(RtpMidiPacket.TryRead(bytes.AsSpan(0, length), out var packet, out _));
        Assert.Equal(new RtpMidiHeader(1, 2, 3), packet.Header);
        Assert.Equal([1, 2, 3], packet.Journal.ToArray());
        var got = new List<(MidiMessage, uint)>();
        var reader = new RtpMidiListReader(packet);
        while (reader.Read()) got.Add((reader.Message, reader.Delta));
        return reader.Fault == RtpMidiFault.None && got.SequenceEqual(entries);
    });

    [Fact]
    public void A_message_that_does_not_fit_leaves_nothing_behind()
    {
        var writer = new RtpMidiListWriter(new byte[7]);
        Assert.True(writer.Add(MidiMessage.NoteOn(default, default, default)));
        Assert.False(writer.Add(MidiMessage.NoteOn(default, default, default), 200));
        Assert.True(writer.Add(MidiMessage.NoteOn(default, default, default), 100));
        Assert.Equal(7, writer.Length);
        Assert.Throws<ArgumentException>(() => new RtpMidiListWriter(new byte[7]).Add(default));
    }

    // Standard MIDI Files 1.0 (RP-001), p. 2, variable-length quantities; RFC 6295 uses the same.
    [Theory]
    [InlineData(0x00000000, "00")]
    [InlineData(0x00000040, "40")]
    [InlineData(0x0000007F, "7F")]
    [InlineData(0x00000080, "8100")]
    [InlineData(0x00002000, "C000")]
    [InlineData(0x00003FFF, "FF7F")]
    [InlineData(0x00004000, "818000")]
    [InlineData(0x00100000, "C08000")]
    [InlineData(0x001FFFFF, "FFFF7F")]
    [InlineData(0x00200000, "81808000")]
    [InlineData(0x08000000, "C0808000")]
    [InlineData(0x0FFFFFFF, "FFFFFF7F")]
    public void Delta_times_are_variable_length_quantities(uint value, string expected)
    {
        var bytes = new byte[4];
        var length = RtpMidiDelta.Write(bytes, value);
        Assert.Equal(expected, Convert.ToHexString(bytes.AsSpan(0, length)));
        Assert.Equal(RtpMidiFault.None, RtpMidiDelta.Read(bytes, out var back, out var used));
        Assert.Equal((value, length), (back, used));
    }

    [Fact]
    public void Random_packets_are_read_or_refused() => Gen.Byte.Array[0, 60].Sample(bytes =>
    {
        if (bytes.Length > 0) bytes[0] = (byte)(0x80 | (bytes[0] & 0x31));
        if (!RtpMidiPacket.TryRead(bytes, out var packet, out var fault)) return fault != RtpMidiFault.None;
        var count = 0;
        var reader = new RtpMidiListReader(packet);
        while (reader.Read()) count++;
        var journal = new RtpMidiJournalReader(packet.Journal);
        while (journal.Read()) count++;
        return count <= 4 * bytes.Length;
    }, iter: Fuzz.Count(20_000));

    private static (string Commands, RtpMidiFault Fault) Read(string hex)
    {
        if (!RtpMidiPacket.TryRead(MidiParserTests.Hex(hex), out var packet, out var fault)) return ("", fault);
        var got = new List<string>();
        var reader = new RtpMidiListReader(packet);
        while (reader.Read())
            got.Add($"{reader.Delta} {(reader.Segment.IsEmpty ? reader.Message.ToString() : Convert.ToHexStringLower(reader.Segment))}");
        return (string.Join('|', got), reader.Fault);
    }

    private static MidiMessage Make(int kind, Midi7 a, Midi7 b) => kind switch
    {
        0 => MidiMessage.NoteOn(new MidiChannel(2), a, b),
        1 or 2 => MidiMessage.ControlChange(default, a, b),
        3 => MidiMessage.PitchBend(new MidiChannel(16), new Midi14(a, b)),
        4 => MidiMessage.QuarterFrame(a),
        _ => MidiMessage.Clock,
    };
}
