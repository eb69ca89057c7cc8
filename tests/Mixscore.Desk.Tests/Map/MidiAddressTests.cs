using Mixscore.Protocols.Midi;

namespace Mixscore.Desk.Tests.Map;

public class MidiAddressTests
{
    // MIDI 1.0 as described in public summaries: control n and n + 32 with the high byte first; pitch bend low byte first;
    // non-registered parameters by 99, 98, 6, 38.
    [Theory]
    [InlineData(MidiTarget.Controller, 1, 1, 14, 0x1005, "b00120b02105")]
    [InlineData(MidiTarget.Controller, 16, 7, 7, 100, "bf0764")]
    [InlineData(MidiTarget.PitchBend, 1, 0, 14, 0x2000, "e00040")]
    [InlineData(MidiTarget.PitchBend, 8, 0, 14, 0x3FFF, "e77f7f")]
    [InlineData(MidiTarget.Nrpn, 1, 1, 14, 0x3FFF, "b06300b06201b0067fb0267f")]
    [InlineData(MidiTarget.Nrpn, 2, 300, 7, 5, "b16302b1622cb10605")]
    public void A_value_becomes_the_bytes_of_the_standard(MidiTarget kind, int channel, int parameter, int bits, int value, string expected)
    {
        var address = new MidiAddress(kind, channel, parameter, bits);
        var bytes = new byte[MidiAddress.MostBytes];
        var length = address.Write(value, bytes);
        Assert.Equal(expected, Convert.ToHexStringLower(bytes[..length]));
        Assert.Equal(length, address.Bytes);
    }

    [Theory, InlineData(-1), InlineData(128)]
    public void A_value_with_too_many_bits_is_a_bad_call(int value) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new MidiAddress(MidiTarget.Controller, 1, 7, 7).Write(value, new byte[12]));
}
