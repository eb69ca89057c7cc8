using CsCheck;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class MidiAssemblerTests
{
    // A public description of MIDI 1.0: 14-bit controllers, RPN and NRPN; either byte alone is legal. That a high byte takes
    // the low byte as 0 is from memory, unverified. '~' marks a value whose low byte may still follow.
    [Theory]
    [InlineData("b0 01 40 b0 21 05", "Controller 1: 8192~|Controller 1: 8197")]
    [InlineData("b0 01 40 b0 21 05 b0 01 41", "Controller 1: 8192~|Controller 1: 8197|Controller 1: 8320~")]
    [InlineData("b0 01 40 b0 21 05 b0 21 06", "Controller 1: 8192~|Controller 1: 8197|Controller 1: 8198")]
    [InlineData("b0 21 05", "Controller 1: 5")]
    [InlineData("b0 40 7f", "Controller 64: 16256")]
    [InlineData("e0 00 40", "PitchBend 0: 8192")]
    [InlineData("b0 65 00 b0 64 00 b0 06 02 b0 26 04", "Rpn 0: 256~|Rpn 0: 260")]
    [InlineData("b0 63 02 b0 62 2c b0 06 60 b0 26 01", "Nrpn 300: 12288~|Nrpn 300: 12289")]
    [InlineData("b0 63 00 b0 62 01 b0 26 07", "Nrpn 1: 7")]
    [InlineData("b0 62 01 b0 06 07", "Nrpn 1: 896~")]
    [InlineData("b0 63 00 b0 62 01 b0 06 07 b0 62 02 b0 26 01", "Nrpn 1: 896~|Nrpn 2: 1")]
    [InlineData("b0 63 00 b0 62 01 b0 06 07 b0 63 00 b0 62 01 b0 26 01", "Nrpn 1: 896~|Nrpn 1: 897")]
    [InlineData("b0 65 7f b0 64 7f b0 06 01", "Controller 6: 128~")]
    [InlineData("b0 63 00 b0 62 01 b0 79 00 b0 06 01", "Controller 6: 128~")]
    [InlineData("b0 63 00 b0 62 01 b1 06 01", "Controller 6: 128~")]
    [InlineData("b0 63 00 b0 62 01 b0 60 00", "")]
    [InlineData("90 3c 40 f8", "")]
    public void Bytes_make_values(string bytes, string expected)
    {
        var assembler = new MidiAssembler();
        var got = new List<string>();
        foreach (var message in MidiParserTests.Parse(new MidiParser(), MidiParserTests.Hex(bytes), [99]))
        {
            if (assembler.Take(message, out var value))
                got.Add($"{value.Target} {value.Number}: {value.Value}{(value.AwaitsLow ? "~" : "")}");
        }
        Assert.Equal(expected, string.Join('|', got));
    }

    [Fact]
    public void What_is_encoded_is_put_together_again() =>
        Gen.Select(Gen.Int[0, 2], Gen.Int[1, 16], Gen.Int[0, 16382], Gen.Int[0, 16383]).Sample((how, number, which, level) =>
        {
            var (channel, value) = (new MidiChannel(number), new Midi14(level));
            var bytes = new byte[12];
            var length = how switch
            {
                0 => MidiEncoder.ControlChange14(bytes, channel, new Midi7(which % 32), value),
                1 => MidiEncoder.Nrpn(bytes, channel, new Midi14(which), value),
                _ => MidiEncoder.Rpn(bytes, channel, new Midi14(which), value),
            };
            var target = how switch { 0 => MidiTarget.Controller, 1 => MidiTarget.Nrpn, _ => MidiTarget.Rpn };
            var assembler = new MidiAssembler();
            MidiValue last = default;
            foreach (var message in MidiParserTests.Parse(new MidiParser(), bytes[..length], [99]))
                if (assembler.Take(message, out var got)) last = got;
            return last == new MidiValue(target, channel, how == 0 ? which % 32 : which, value, AwaitsLow: false);
        });
}
