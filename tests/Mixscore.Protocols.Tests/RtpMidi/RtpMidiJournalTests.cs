using CsCheck;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Tests.Midi;

namespace Mixscore.Protocols.Tests.RtpMidi;

public sealed class RtpMidiJournalTests
{
    // A parameter is selected by both its bytes and given its high byte first, as the encoder does it.
    private static readonly Gen<MidiMessage[]> GenStep = Gen.Select(Gen.Int[0, 6], Gen.Int[1, 3], Gen.Int[0, 127], Gen.Int[0, 127],
        (kind, number, a, b) =>
        {
            var (channel, value) = (new MidiChannel(number), new Midi7(b));
            return kind switch
            {
                0 => [MidiMessage.PitchBend(channel, new Midi14(new Midi7(a), value))],
                1 => [Control(channel, 99, b % 2), Control(channel, 98, a % 3)],
                2 => [Control(channel, 101, b % 2), Control(channel, 100, a % 3)],
                3 => [Control(channel, 6, b)],
                4 => [Control(channel, 6, b), Control(channel, 38, a)],
                _ => new[] { Control(channel, a % 6, b) },
            };
        });

    // Layout by RFC 6295 as its public summaries give it: header, channel header, chapters C, M and W. Bytes derived.
    // What stands in the last packet has S bits of 0, all the way up.
    [Fact]
    public void Controllers_and_wheels_lie_as_the_chapters_say()
    {
        var journal = new RtpMidiJournalWriter(firstSequence: 0x0100);
        Assert.Equal("800100", Hex(journal));
        Send(journal, MidiMessage.ControlChange(new MidiChannel(3), new Midi7(7), new Midi7(100)));
        Assert.Equal("200100" + "100640" + "000764", Hex(journal));
        Send(journal, MidiMessage.PitchBend(new MidiChannel(3), new Midi14(0x2005)));
        Assert.Equal("200100" + "100850" + "808764" + "0540", Hex(journal));
        Send(journal);
        Assert.Equal("a00100" + "900850" + "808764" + "8540", Hex(journal));
    }

    [Fact]
    public void Parameters_lie_in_chapter_M()
    {
        var journal = new RtpMidiJournalWriter(firstSequence: 5);
        var bytes = new byte[12];
        MidiEncoder.Nrpn(bytes, default, new Midi14(300), new Midi14(12288 + 1));
        Send(journal, [.. MidiParserTests.Parse(new MidiParser(), bytes, [12])]);
        // Header: in progress, 7 octets; log: number 300 as 2C, 02 with Q; entry high and low, by value.
        Assert.Equal("200005" + "000a20" + "2007" + "2c82c2" + "6001", Hex(journal));
        Send(journal, MidiMessage.ControlChange(default, new Midi7(99), new Midi7(1)));
        Assert.Equal("200005" + "000b20" + "4008" + "81" + "ac82c2" + "6001", Hex(journal));
    }

    // RFC 6295, appendix A.1, and the feedback in common use: what the receiver has need not be covered.
    [Fact]
    public void What_has_been_received_leaves_the_journal()
    {
        var journal = new RtpMidiJournalWriter(firstSequence: 0xFFFF);
        Send(journal, MidiMessage.ControlChange(default, new Midi7(7), new Midi7(1)));
        Send(journal, MidiMessage.ControlChange(default, new Midi7(8), new Midi7(2)));
        journal.Received(0xFFFE);
        journal.Received(0x0005);
        Assert.Equal(0xFFFF, journal.Checkpoint);
        journal.Received(0xFFFF);
        Assert.Equal("200000" + "000640" + "000802", Hex(journal));
        journal.Received(0x0000);
        Assert.Equal("800001", Hex(journal));
    }

    // Law: a receiver that has the state at the checkpoint and the journal has the state of the sender.
    [Fact]
    public void A_journal_brings_the_receiver_to_where_the_sender_is() =>
        Gen.Select(GenStep.Array[0, 6].Select(steps => steps.SelectMany(step => step).ToArray()).Array[1, 8], Gen.Int[0, 7]).Sample((packets, lost) =>
        {
            var journal = new RtpMidiJournalWriter(firstSequence: 65533);
            var (sender, receiver) = (new State(), new State());
            for (var i = 0; i < packets.Length; i++)
            {
                Send(journal, packets[i]);
                foreach (var message in packets[i])
                {
                    sender.Take(message);
                    if (i < lost) receiver.Take(message);
                }
                if (i < lost) journal.Received(unchecked((ushort)(65533 + i)));
            }
            var reader = new RtpMidiJournalReader(Write(journal));
            while (reader.Read()) receiver.Take(reader.Message);
            return reader.Fault == RtpMidiFault.None && reader.Checkpoint == journal.Checkpoint && receiver.Matches(sender);
        }, iter: 3000);

    [Fact]
    public void A_journal_that_does_not_fit_is_not_written()
    {
        var journal = new RtpMidiJournalWriter(firstSequence: 0);
        Send(journal, MidiMessage.ControlChange(default, new Midi7(7), new Midi7(1)), MidiMessage.PitchBend(default, default));
        var whole = Write(journal).Length;
        for (var size = 0; size < whole; size++) Assert.Equal(0, journal.Write(new byte[size]));
        Assert.Equal(whole, journal.Write(new byte[whole]));
    }

    // The live thread takes no memory once every parameter has been seen.
    [Fact]
    public void Keeping_and_writing_a_journal_take_no_memory()
    {
        var journal = new RtpMidiJournalWriter(firstSequence: 65000);
        var messages = MidiParserTests.Parse(new MidiParser(), MidiParserTests.Hex("b0 63 02 62 2c 06 60 26 01 07 64 e0 00 40"), [99]);
        var bytes = new byte[64];
        ushort sequence = 65000;
        var written = 0;
        Round();
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++) Round();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(unchecked((ushort)(65000 + 1000)), journal.Checkpoint);
        // The first journal is a header alone; the others hold one controller, one parameter and the wheel.
        Assert.Equal(3 + (1000 * (3 + 3 + 3 + 7 + 2)), written);

        void Round()
        {
            written += journal.Write(bytes);
            journal.NextPacket();
            foreach (var message in messages) journal.Sent(message);
            journal.Received(unchecked((ushort)(sequence++ - 1)));
        }
    }

    // Chapters that are not used here are passed over by their lengths: a system journal, chapter P, chapter N behind W.
    [Fact]
    public void Other_chapters_are_passed_over() => Assert.Equal("b0 07 64|e0 05 40|b1 07 01", Restored(
        "610005" + "0004aaaa" + "000fd8" + "010203" + "000764" + "0540" + "01023c40" + "080640" + "000701"));

    [Fact]
    public void Short_parameter_numbers_and_buttons_are_understood() =>
        Assert.Equal("b0 65 00|b0 64 05|b0 06 07|b0 26 08", Restored("200005" + "001020" + "340d" + "85fa0708" + "11112222" + "060033"[..2] + "0600"));

    [Theory]
    [InlineData("20")]
    [InlineData("600005")]
    [InlineData("6000050001")]
    [InlineData("200005")]
    [InlineData("200005000240")]
    [InlineData("200005000640")]
    [InlineData("200005000440000700")]
    [InlineData("20000500064005076400")]
    [InlineData("200005000520200f")]
    [InlineData("2000050006202003aa")]
    public void A_malformed_journal_has_a_fault(string hex)
    {
        var reader = new RtpMidiJournalReader(MidiParserTests.Hex(hex));
        while (reader.Read()) Assert.NotEqual(MidiKind.None, reader.Message.Kind);
        Assert.NotEqual(RtpMidiFault.None, reader.Fault);
    }

    private static MidiMessage Control(MidiChannel channel, int controller, int value) =>
        MidiMessage.ControlChange(channel, new Midi7(controller), new Midi7(value));

    private static string Restored(string hex)
    {
        var got = new List<string>();
        var reader = new RtpMidiJournalReader(MidiParserTests.Hex(hex));
        while (reader.Read()) got.Add(reader.Message.ToString());
        Assert.Equal(RtpMidiFault.None, reader.Fault);
        return string.Join('|', got);
    }

    private static void Send(RtpMidiJournalWriter journal, params MidiMessage[] messages)
    {
        journal.NextPacket();
        foreach (var message in messages) journal.Sent(message);
    }

    private static string Hex(RtpMidiJournalWriter journal) => Convert.ToHexStringLower(Write(journal));

    private static byte[] Write(RtpMidiJournalWriter journal)
    {
        var bytes = new byte[4096];
        return bytes[..journal.Write(bytes)];
    }

    /// <summary>What a desk would hold: every value it was told.</summary>
    private sealed class State
    {
        private readonly MidiAssembler _assembler = new();
        private readonly Dictionary<(MidiTarget, MidiChannel, int), Midi14> _values = [];

        public void Take(MidiMessage message)
        {
            if (_assembler.Take(message, out var value) && !(value.Target == MidiTarget.Controller && value.Number == 6))
                _values[(value.Target, value.Channel, value.Number)] = value.Value;
        }

        public bool Matches(State other) => _values.Count == other._values.Count
            && _values.All(pair => other._values.TryGetValue(pair.Key, out var value) && value == pair.Value);
    }
}
