using CsCheck;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class MidiParserTests
{
    private static readonly Gen<MidiMessage> GenMessage = Gen.Select(Gen.Int[0, 11], Gen.Int[1, 16], Gen.Int[0, 127], Gen.Int[0, 127],
        (kind, channel, a, b) => Make(kind, new MidiChannel(channel), new Midi7(a), new Midi7(b)));

    // MIDI 1.0, running status: the status byte is left out while it stays the same.
    [Theory]
    [InlineData("90 3c 40 3e 41", "90 3c 40|90 3e 41", 0)]
    [InlineData("c0 05 06", "c0 05|c0 06", 0)]
    [InlineData("90 3c f8 40", "f8|90 3c 40", 0)]
    [InlineData("b0 f8 07 fe 64 f8 65", "f8|fe|b0 07 64|f8", 1)]
    [InlineData("90 3c 40 f2 08 00 3e 41", "90 3c 40|f2 08 00", 2)]
    [InlineData("90 3c 40 f6 3e", "90 3c 40|f6", 1)]
    [InlineData("90 3c b0 07 64", "b0 07 64", 1)]
    [InlineData("f1 f1 76", "f1 76", 1)]
    [InlineData("3c 40 90 3c 40", "90 3c 40", 2)]
    [InlineData("f4 f5 f9 fd f7", "", 5)]
    [InlineData("f0 01 02 f8 f7", "f8|SystemExclusive", 0)]
    [InlineData("f0 01 02 90 3c 40", "90 3c 40", 1)]
    [InlineData("90 3c 40 f0 01 f7 3e", "90 3c 40|SystemExclusive", 1)]
    [InlineData("f0 01 02 03 04 05 f7 f8", "f8", 1)]
    [InlineData("f0 01 02 03 04 f7", "SystemExclusive", 0)]
    public void Bytes_are_read_as_messages_and_wrong_ones_counted(string bytes, string expected, long faults)
    {
        var parser = new MidiParser(longestExclusive: 4);
        var input = Hex(bytes);
        var got = Parse(parser, input, [input.Length]);
        Assert.Equal(expected, string.Join('|', got));
        // A message still open is no fault until something cuts it short.
        Parse(parser, [0xF6], [1]);
        Assert.Equal(faults, parser.Faults);
    }

    [Theory]
    [InlineData("3c", MidiFault.DataWithoutStatus)]
    [InlineData("90 90", MidiFault.MessageCutShort)]
    [InlineData("90 3c 90", MidiFault.MessageCutShort)]
    [InlineData("f5", MidiFault.UndefinedStatus)]
    [InlineData("f0 01 90", MidiFault.ExclusiveCutShort)]
    [InlineData("f0 01 02 03 f7", MidiFault.ExclusiveTooLong)]
    [InlineData("f7", MidiFault.EndWithoutExclusive)]
    public void A_fault_has_its_name(string bytes, MidiFault expected)
    {
        var parser = new MidiParser(longestExclusive: 2);
        Parse(parser, Hex(bytes), [99]);
        Assert.Equal(expected, parser.LastFault);
    }

    [Fact]
    public void An_exclusive_message_is_kept_between_its_ends()
    {
        var parser = new MidiParser();
        ReadOnlySpan<byte> input = Hex("f0 7f 7f 01 01 61 1e 23 14 f7");
        Assert.True(parser.Read(ref input, out var message));
        Assert.Equal(MidiKind.SystemExclusive, message.Kind);
        Assert.Equal("7F7F0101611E2314", Convert.ToHexString(parser.Exclusive));
    }

    // Law: with or without running status, with clocks strewn in, in any pieces: the same messages.
    [Fact]
    public void Messages_come_back_however_the_bytes_are_cut() =>
        Gen.Select(GenMessage.Array[0, 12], Gen.Int[1, 7].Array[1, 6], Gen.Bool).Sample((messages, cuts, running) =>
        {
            var parser = new MidiParser();
            var got = Parse(parser, Write(messages, running), cuts);
            return parser.Faults == 0 && got.SequenceEqual(messages);
        });

    [Fact]
    public void Real_time_bytes_change_nothing_around_them() =>
        Gen.Select(GenMessage.Array[1, 8], Gen.Bool.Array[1, 40]).Sample((messages, strewn) =>
        {
            var bytes = Write(messages, running: true).SelectMany((octet, i) =>
                strewn[i % strewn.Length] ? new byte[] { 0xF8, octet } : [octet]).ToArray();
            var got = Parse(new MidiParser(), bytes, [3]).Where(message => message.Kind != MidiKind.Clock);
            return got.SequenceEqual(messages.Where(message => message.Kind != MidiKind.Clock));
        });

    [Fact]
    public void Random_bytes_never_trouble_the_parser() => Gen.Byte.Array[0, 300].Sample(bytes =>
    {
        var parser = new MidiParser(longestExclusive: 8);
        var got = Parse(parser, bytes, [5]);
        return got.Count <= bytes.Length && parser.Faults <= 2 * bytes.Length;
    }, iter: Fuzz.Count(2_000));

    // The live thread takes no memory.
    [Fact]
    public void Encoding_and_parsing_take_no_memory()
    {
        var parser = new MidiParser();
        var assembler = new MidiAssembler();
        var buffer = new byte[12];
        var sum = Exchange(parser, assembler, buffer);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++) sum += Exchange(parser, assembler, buffer);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(1001 * 12288, sum);
    }

    internal static byte[] Hex(string text) => Convert.FromHexString(text.Replace(" ", "", StringComparison.Ordinal));

    internal static List<MidiMessage> Parse(MidiParser parser, byte[] bytes, int[] cuts)
    {
        var got = new List<MidiMessage>();
        for (int at = 0, i = 0; at < bytes.Length; i++)
        {
            ReadOnlySpan<byte> input = bytes.AsSpan(at, Math.Min(cuts[i % cuts.Length], bytes.Length - at));
            at += input.Length;
            while (parser.Read(ref input, out var message)) got.Add(message);
        }
        return got;
    }

    private static int Exchange(MidiParser parser, MidiAssembler assembler, byte[] buffer)
    {
        MidiEncoder.Nrpn(buffer, default, new Midi14(300), new Midi14(12288));
        ReadOnlySpan<byte> input = buffer;
        var sum = 0;
        while (parser.Read(ref input, out var message))
            if (assembler.Take(message, out var value) && !value.AwaitsLow) sum += value.Value.Value;
        return sum;
    }

    private static byte[] Write(MidiMessage[] messages, bool running)
    {
        var bytes = new List<byte>();
        var last = -1;
        foreach (var message in messages)
        {
            var buffer = new byte[3];
            var length = message.Write(buffer);
            var status = buffer[0];
            bytes.AddRange(buffer[(running && status == last ? 1 : 0)..length]);
            if (status < 0xF0) last = status;
            else if (status < 0xF8) last = -1;
        }
        return [.. bytes];
    }

    private static MidiMessage Make(int kind, MidiChannel channel, Midi7 a, Midi7 b) => kind switch
    {
        0 or 1 => MidiMessage.NoteOn(channel, a, b),
        2 => MidiMessage.NoteOff(channel, a, b),
        3 or 4 or 5 => MidiMessage.ControlChange(new MidiChannel(1), a, b),
        6 => MidiMessage.PitchBend(channel, new Midi14(a, b)),
        7 => MidiMessage.SongPosition(new Midi14(a, b)),
        8 => MidiMessage.QuarterFrame(a),
        9 => MidiMessage.Clock,
        10 => MidiMessage.Start,
        _ => MidiMessage.Stop,
    };
}
