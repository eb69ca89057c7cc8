using CsCheck;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Ltc;

public sealed class LtcFrameTests
{
    private static readonly Gen<Timecode> GenLabel = Gen.Select(Gen.Int[0, 3], Gen.Long[0, 3_000_000],
        (rate, index) => Timecode.FromIndex((TimecodeRate)rate, index));

    // SMPTE 12M bit table as two public tables give it; written out by hand in the order of sending, a nibble a group:
    // frame units, user, frame tens + drop + colour, user, and so on; sync 0011 1111 1111 1101. 01:23:45:12 at 30 frames has
    // 22 ones before the polarity bit, an even number, so bit 27 stays 0.
    [Fact]
    public void A_frame_lies_as_the_table_says() => Assert.Equal(
        "0100 0000 1000 0000" + " 1010 0000 0010 0000" + " 1100 0000 0100 0000" + " 1000 0000 0000 0000" + " 0011 1111 1111 1101",
        Sent(new Timecode(TimecodeRate.Frames30, 1, 23, 45, 12)));

    // The same table: bit 10 is drop-frame. That makes 23 ones, so the polarity bit 27 makes 24 of them.
    [Fact]
    public void Drop_frame_sets_bit_10() => Assert.Equal(
        "0100 0000 1010 0000" + " 1010 0000 0011 0000" + " 1100 0000 0100 0000" + " 1000 0000 0000 0000" + " 0011 1111 1111 1101",
        Sent(new Timecode(TimecodeRate.Frames30Drop, 1, 23, 45, 12)));

    // The same table: an even number of zeros in every frame.
    [Fact]
    public void Every_frame_has_an_even_number_of_zeros() => GenLabel.Sample(label =>
        Sent(label).Count(bit => bit == '0') % 2 == 0);

    [Fact]
    public void Every_label_comes_back() => GenLabel.Sample(label =>
    {
        var bits = LtcFrame.Encode(label);
        return LtcFrame.HasSync(bits) && LtcFrame.TryDecode(bits, label.Rate, out var back) && back == label
            && LtcFrame.IsDrop(bits) == (label.Rate == TimecodeRate.Frames30Drop);
    });

    [Fact]
    public void Figures_above_nine_are_no_label() => Assert.False(LtcFrame.TryDecode(0x0A, TimecodeRate.Frames30, out _));

    private static string Sent(Timecode label)
    {
        var bits = LtcFrame.Encode(label);
        var groups = Enumerable.Range(0, 20).Select(group =>
            string.Concat(Enumerable.Range(4 * group, 4).Select(bit => (bits >> bit & 1) == 1 ? '1' : '0')));
        return string.Join(' ', groups);
    }
}
