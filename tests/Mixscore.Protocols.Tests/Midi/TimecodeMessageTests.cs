using CsCheck;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class TimecodeMessageTests
{
    // The first full frame is read in a public textbook on digital sound, chapter 6; the quarter frames and the other rows
    // are derived from a public table of MIDI timecode.
    public static TheoryData<int, int, int, int, int, string, string> Examples => new()
    {
        { 3, 1, 30, 35, 20, "F07F7F0101611E2314F7", "0411233 24E516176" },
        { 2, 23, 59, 59, 29, "F07F7F0101573B3B1DF7", "0D112B334B536775" },
        { 1, 0, 0, 0, 0, "F07F7F010120000000F7", "0010203040506072" },
        { 0, 17, 2, 3, 4, "F07F7F010111020304F7", "0410233042506171" },
    };

    private static readonly Gen<Timecode> GenLabel = Gen.Select(Gen.Int[0, 3], Gen.Long[0, 3_000_000],
        (rate, index) => Timecode.FromIndex((TimecodeRate)rate, index));

    [Theory]
    [MemberData(nameof(Examples))]
    public void Labels_have_their_bytes(int rate, int hours, int minutes, int seconds, int frames, string full, string quarters)
    {
        var label = new Timecode((TimecodeRate)rate, hours, minutes, seconds, frames);
        var bytes = new byte[TimecodeFullFrame.Bytes];
        Assert.Equal(10, TimecodeFullFrame.Write(bytes, label));
        Assert.Equal(full, Convert.ToHexString(bytes));
        var pieces = Enumerable.Range(0, 8).Select(piece => (byte)TimecodeQuarterFrame.Of(label, piece).Data1.Value);
        Assert.Equal(quarters.Replace(" ", "", StringComparison.Ordinal), Convert.ToHexString(pieces.ToArray()));
    }

    [Fact]
    public void A_full_frame_comes_back() => GenLabel.Sample(label =>
    {
        var bytes = new byte[10];
        TimecodeFullFrame.Write(bytes, label);
        return TimecodeFullFrame.TryRead(bytes.AsSpan(1, 8), out var back) && back == label;
    });

    [Theory]
    [InlineData("7f7f0101611e23")]
    [InlineData("7e7f0101611e2314")]
    [InlineData("7f7f0102611e2314")]
    [InlineData("7f7f0101783c0000")]
    [InlineData("7f7f010140010000")]
    public void What_is_no_full_frame_is_no_label(string exclusive) =>
        Assert.False(TimecodeFullFrame.TryRead(MidiParserTests.Hex(exclusive), out _));

    // A public page on MIDI timecode: eight messages take two frames, so a label shown when whole is two frames old.
    [Fact]
    public void A_whole_label_is_two_frames_late()
    {
        var follower = new TimecodeFollower();
        var label = new Timecode(TimecodeRate.Frames25, 10, 0, 0, 0);
        for (var piece = 0; piece < 7; piece++) Assert.False(follower.Take(TimecodeQuarterFrame.Of(label, piece)));
        Assert.Null(follower.Label);
        Assert.True(follower.Take(TimecodeQuarterFrame.Of(label, 7)));
        Assert.Equal(label, follower.Label);
        Assert.Equal("10:00:00:02", follower.Shown.ToString());
        Assert.Equal((label.Index * 4) + 7, follower.Quarter);
    }

    // Law: from the first whole label on, the position is that of the message just taken, up or down, from any start.
    [Fact]
    public void The_position_is_that_of_the_message_just_taken() =>
        Gen.Select(Gen.Int[0, 3], Gen.Long[0, 12_000_000], Gen.Bool, Gen.Int[16, 60]).Sample((code, start, up, count) =>
        {
            var rate = (TimecodeRate)code;
            var day = 4 * Timecode.FramesPerDay(rate);
            var follower = new TimecodeFollower();
            for (var i = 0; i < count; i++)
            {
                var quarter = (((start + (up ? i : -i)) % day) + day) % day;
                var known = follower.Take(TimecodeQuarterFrame.At(rate, quarter));
                if (i >= 15 && !known) return false;
                if (known && follower.Quarter != quarter) return false;
            }
            return follower.Direction == (up ? 1 : -1);
        });

    [Fact]
    public void A_lost_message_makes_the_position_unknown_until_the_next_whole_label()
    {
        var follower = new TimecodeFollower();
        for (var quarter = 800L; quarter < 820; quarter++)
            if (quarter != 810) Assert.Equal(quarter is 807 or 808 or 809, follower.Take(TimecodeQuarterFrame.At(TimecodeRate.Frames24, quarter)));
        for (var quarter = 820L; quarter < 824; quarter++) follower.Take(TimecodeQuarterFrame.At(TimecodeRate.Frames24, quarter));
        Assert.Equal(823, follower.Quarter);
    }

    [Fact]
    public void A_jump_is_taken_with_the_next_whole_label_or_a_full_message()
    {
        var follower = new TimecodeFollower();
        for (var quarter = 800L; quarter < 808; quarter++) follower.Take(TimecodeQuarterFrame.At(TimecodeRate.Frames30, quarter));
        for (var quarter = 4000L; quarter < 4008; quarter++) follower.Take(TimecodeQuarterFrame.At(TimecodeRate.Frames30, quarter));
        Assert.Equal(4007, follower.Quarter);
        follower.Place(Timecode.FromIndex(TimecodeRate.Frames30, 50));
        Assert.Equal((200, 0, 50), (follower.Quarter, follower.Direction, follower.Shown!.Value.Index));
    }

    [Fact]
    public void Quarter_frames_that_make_no_label_make_no_position()
    {
        var follower = new TimecodeFollower();
        foreach (var data in MidiParserTests.Hex("0f 11 2f 33 4f 53 6f 77")) Assert.False(follower.Take(MidiMessage.QuarterFrame(new Midi7(data))));
        Assert.Null(follower.Label);
    }

    [Fact]
    public void Random_quarter_frames_never_trouble_the_follower() => Gen.Int[0, 127].Array[0, 60].Sample(data =>
    {
        var follower = new TimecodeFollower();
        foreach (var octet in data) follower.Take(MidiMessage.QuarterFrame(new Midi7(octet)));
        return follower.Quarter is null or >= 0;
    }, iter: Fuzz.Count(2_000));
}
