using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Control;

public class ControlLineTests
{
    [Theory]
    [InlineData("start 9", 16.0), InlineData("start", 0.0), InlineData("start 3:3", 5.0)]
    public void It_starts_at_a_position(string line, double at)
    {
        var run = new LiveRun(Pieces.Three(), new OwnClick(), [], new RunSettings { CountInBars = 0 });
        Assert.Null(ControlLine.Obey(line, run, TimeSpan.Zero));
        run.Tick(TimeSpan.Zero);
        Assert.Equal((RunPhase.Running, at), (run.View.Look().Phase, run.View.Look().At.Value));
    }

    [Fact]
    public void Hands_by_words_are_the_same_as_by_OSC()
    {
        var run = new LiveRun(Pieces.Three(), new OwnClick(), []);
        foreach (var line in new[] { "take north.voice -4", "take north.horn off", "offset south 2", "arm" }) Assert.Null(ControlLine.Obey(line, run, TimeSpan.Zero));
        for (var i = 0; i < 100; i++) run.Tick(TimeSpan.FromMilliseconds(20 * i));
        var picture = run.View.Look();
        Assert.Equal(-4, picture.Sources[0].Gain!.Value.Value, 6);
        Assert.Null(picture.Sources[1].Gain);
        Assert.Equal(Decibels.Of(2), picture.Sources[2].Offset);
        Assert.True(picture.IsArmed);
        // A site's sources together, relative to where they are.
        Assert.Null(ControlLine.Obey("move north -3", run, TimeSpan.Zero));
        for (var i = 100; i < 200; i++) run.Tick(TimeSpan.FromMilliseconds(20 * i));
        Assert.Equal(-7, run.View.Look().Sources[0].Gain!.Value.Value, 6);
        Assert.Null(run.View.Look().Sources[1].Gain);
    }

    [Theory]
    [InlineData("take west.voice -4"), InlineData("take north.voice loud"), InlineData("jump 99"), InlineData("start 3:9"), InlineData("mixdown"), InlineData("mark"), InlineData("offset north.voice")]
    public void What_is_wrong_is_said_and_nothing_happens(string line)
    {
        var run = new LiveRun(Pieces.Three(), new OwnClick(), []);
        Assert.NotNull(ControlLine.Obey(line, run, TimeSpan.Zero));
        run.Tick(TimeSpan.Zero);
        Assert.Equal(RunPhase.Waiting, run.View.Look().Phase);
        Assert.All(run.View.Look().Sources, source => Assert.Equal(Holder.Planned, source.Holder));
    }

    [Theory]
    [InlineData(0.0, "1:1"), InlineData(5.1, "3:3"), InlineData(31.99, "16:4"), InlineData(32.0, "end")]
    public void A_place_is_called_by_bar_and_beat(double seconds, string called) => Assert.Equal(called, BeatPosition.Of(Pieces.Bars(16), new Seconds(seconds)));

    [Fact]
    public void The_count_in_is_called_by_the_beats_to_go() =>
        Assert.Equal(["-4", "-4", "-3", "-1"], new[] { 2.0, 1.6, 1.4, 0.3 }.Select(left => BeatPosition.Of(Pieces.Bars(16), new Seconds(16 - left), new Seconds(left))));
}
