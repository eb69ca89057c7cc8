using CsCheck;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class MidiEncoderTests
{
    // A public description of MIDI 1.0 gives the example CC 1 = 0x2005 on channel 1; bytes derived from its rules.
    [Fact]
    public void A_14_bit_controller_is_high_byte_then_low_byte()
    {
        var bytes = new byte[6];
        Assert.Equal(6, MidiEncoder.ControlChange14(bytes, new MidiChannel(1), new Midi7(1), new Midi14(0x2005)));
        Assert.Equal("B00140B02105", Convert.ToHexString(bytes));
    }

    // The same description: RPN 0 to 2 semitones and 4 cents.
    [Fact]
    public void Pitch_bend_range_is_the_example_of_the_description()
    {
        var bytes = new byte[12];
        MidiEncoder.Rpn(bytes, default, default, new Midi14(new Midi7(2), new Midi7(4)));
        Assert.Equal("B06500B06400B00602B02604", Convert.ToHexString(bytes));
    }

    // The same description: NRPN 1 is selected by B0 63 00, B0 62 01; data entry as for an RPN.
    [Fact]
    public void A_non_registered_parameter_is_selected_by_99_and_98()
    {
        var bytes = new byte[12];
        Assert.Equal(12, MidiEncoder.Nrpn(bytes, default, new Midi14(1), new Midi14(12288)));
        Assert.Equal("B06300B06201B00660B02600", Convert.ToHexString(bytes));
    }

    // The same description: pitch bend En LSB MSB, centre En 00 40; F2 LSB MSB; FA FB FC F8.
    [Theory]
    [InlineData("e0 00 40", 0)]
    [InlineData("f2 08 00", 1)]
    [InlineData("f8", 2)]
    [InlineData("fa", 3)]
    [InlineData("fb", 4)]
    [InlineData("fc", 5)]
    [InlineData("9f 3c 40", 6)]
    [InlineData("80 3c 00", 7)]
    [InlineData("b2 07 64", 8)]
    [InlineData("f1 76", 9)]
    public void Messages_have_their_bytes(string expected, int which)
    {
        MidiMessage[] messages =
        [
            MidiMessage.PitchBend(default, Midi14.Centre), MidiMessage.SongPosition(new Midi14(8)), MidiMessage.Clock,
            MidiMessage.Start, MidiMessage.Continue, MidiMessage.Stop,
            MidiMessage.NoteOn(new MidiChannel(16), new Midi7(60), new Midi7(64)),
            MidiMessage.NoteOff(default, new Midi7(60), default),
            MidiMessage.ControlChange(new MidiChannel(3), new Midi7(7), new Midi7(100)),
            MidiMessage.QuarterFrame(new Midi7(0x76)),
        ];
        Assert.Equal(expected, messages[which].ToString());
        Assert.Equal(expected.Split(' ').Length, messages[which].Length);
    }

    [Fact]
    public void What_MIDI_cannot_carry_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Midi7(128));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Midi7(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Midi14(16384));
        Assert.Throws<ArgumentOutOfRangeException>(() => new MidiChannel(0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new MidiChannel(17));
        Assert.Throws<ArgumentOutOfRangeException>(
            () => MidiEncoder.ControlChange14(new byte[6], default, new Midi7(32), default));
        Assert.Throws<ArgumentException>(() => MidiEncoder.ControlChange14(new byte[5], default, default, default));
        Assert.Throws<ArgumentException>(() => MidiEncoder.Nrpn(new byte[11], default, default, default));
        Assert.Throws<ArgumentException>(() => MidiMessage.Clock.Write([]));
    }

    [Fact]
    public void A_wide_number_is_its_two_bytes() => Gen.Int[0, Midi14.Largest].Sample(value =>
        new Midi14(value) is var wide && new Midi14(wide.High, wide.Low) == wide && (wide.High.Value * 128) + wide.Low.Value == value);
}
