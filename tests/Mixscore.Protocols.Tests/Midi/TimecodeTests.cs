using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class TimecodeTests
{
    public static TheoryData<TimecodeRate> Rates => [.. Enum.GetValues<TimecodeRate>()];

    // SMPTE 12M drop-frame counting as two public summaries give it; table derived by listing every label of 24 h.
    [Theory]
    [InlineData(1799, "00:00:59;29")]
    [InlineData(1800, "00:01:00;02")]
    [InlineData(17981, "00:09:59;29")]
    [InlineData(17982, "00:10:00;00")]
    [InlineData(107891, "00:59:59;29")]
    [InlineData(107892, "01:00:00;00")]
    [InlineData(150612, "01:23:45;12")]
    [InlineData(1357534, "12:34:56;12")]
    [InlineData(2589407, "23:59:59;29")]
    [InlineData(2589408, "00:00:00;00")]
    [InlineData(-1, "23:59:59;29")]
    public void Drop_frame_labels_leave_out_two_a_minute(long index, string label) =>
        Assert.Equal(label, Timecode.FromIndex(TimecodeRate.Frames30Drop, index).ToString());

    // The same table: 1798 frames in a minute, 17,982 in ten, 107,892 in an hour, 2,589,408 in a day; 3599.9964 s an hour.
    [Fact]
    public void Drop_frame_keeps_to_the_clock_on_the_wall()
    {
        Assert.Equal(2589408, Timecode.FramesPerDay(TimecodeRate.Frames30Drop));
        Assert.Equal(3599.9964, new Timecode(TimecodeRate.Frames30Drop, 1, 0, 0, 0).ToSeconds(), 9);
        Assert.Equal(-0.0864, (2589408 / Timecode.FramesPerSecond(TimecodeRate.Frames30Drop)) - 86400, 6);
    }

    [Theory]
    [MemberData(nameof(Rates))]
    public void Every_frame_of_a_day_has_its_own_label_and_comes_back(TimecodeRate rate)
    {
        var before = -1L;
        for (var index = 0L; index < Timecode.FramesPerDay(rate); index++)
        {
            var label = Timecode.FromIndex(rate, index);
            var order = (((((long)label.Hours * 60) + label.Minutes) * 60) + label.Seconds) * 30 + label.Frames;
            if (label.Index != index || order <= before) Assert.Fail($"frame {index} at {rate} reads {label}, frame {label.Index}");
            before = order;
        }
    }

    // Brute force: every label that the rule admits is reached, so counting labels gives the frames of a day.
    [Theory]
    [MemberData(nameof(Rates))]
    public void Labels_of_a_day_number_its_frames(TimecodeRate rate)
    {
        var labels = 0L;
        for (var second = 0; second < 86400; second++)
            for (var frame = 0; frame < 32; frame++)
                if (Timecode.IsLabel(rate, second / 3600, second / 60 % 60, second % 60, frame)) labels++;
        Assert.Equal(Timecode.FramesPerDay(rate), labels);
    }

    [Theory]
    [MemberData(nameof(Rates))]
    public void A_frames_own_time_is_that_frame(TimecodeRate rate)
    {
        for (var index = 0L; index < Timecode.FramesPerDay(rate); index += 7)
        {
            var label = Timecode.FromIndex(rate, index);
            if (Timecode.FromSeconds(rate, label.ToSeconds()) != label) Assert.Fail($"{label} at {rate}");
        }
    }

    [Fact]
    public void Steps_go_round_the_day()
    {
        Assert.Equal("00:00:00:01", new Timecode(TimecodeRate.Frames25, 23, 59, 59, 24).Plus(2).ToString());
        Assert.Equal("00:00:59;29", new Timecode(TimecodeRate.Frames30Drop, 0, 1, 0, 2).Plus(-1).ToString());
    }

    [Fact]
    public void Labels_that_do_not_exist_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Timecode(TimecodeRate.Frames30Drop, 0, 1, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Timecode(TimecodeRate.Frames24, 0, 0, 0, 24));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Timecode(TimecodeRate.Frames30, 24, 0, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Timecode.FromSeconds(TimecodeRate.Frames30, double.NaN));
        Assert.Equal("00:00:00:00", default(Timecode).ToString());
    }
}
