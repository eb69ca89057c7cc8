using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand, one case a cause; a beat is a second.
public sealed class WideningReportTests
{
    // -10 asked, within 2, and the stem at -31 in bars 9 and 10: +19 at the least, 9 over the top. It rests on either side.
    [Fact]
    public void Too_quiet_for_the_fader()
    {
        var stretch = Assert.Single(Fitted(Source(Line(Held(0, 80, -10)), t => t switch { > 32 and < 39.5 => -31, < 30 or > 42 => 0, _ => null })).Widened);
        Assert.Equal("bars 9–10: north.voice arrives 9 dB too quiet for a fader that tops at +10", stretch.Text);
        Assert.Equal(("32", "40", Because.TooQuiet), (stretch.From.ToString(), stretch.To.ToString(), stretch.Because));
        Assert.Equal(9, stretch.By.Value, 1e-6);
    }

    // -30 asked, within 2, and the stem at +35: -63 at the most, 3 under the bottom.
    [Fact]
    public void Too_loud_for_the_fader() =>
        Assert.Equal(
            "bars 1–20: north.engine arrives 3 dB too loud for a fader whose bottom is -60",
            Assert.Single(Fitted(Source(Line(Held(0, 80, -30)), _ => 35, "north.engine")).Widened).Text);

    // The stem leaps by 25 dB between two moments a second apart; the bands of ±2 leave 21 to move, and 20 can be.
    [Fact]
    public void Too_fast_for_the_speed()
    {
        var stretch = Assert.Single(Fitted(Source(Line(Held(0, 80, -20)), t => t < 45.05 ? 0 : t < 45.95 ? null : -25, "north.horn"), speed: 20).Widened);
        Assert.StartsWith("bar 12: north.horn would have to move 21 dB in 1 s; the limit is 20 dB/s", stretch.Text, StringComparison.Ordinal);
        Assert.Equal(Because.TooFast, stretch.Because);
    }

    // The loudness dips by 12 dB for the middle of one beat and is back on the next.
    [Fact]
    public void Too_narrow_for_a_straight_line()
    {
        var stretch = Assert.Single(Fitted(Source(Line(Held(0, 80, -20)), t => t is > 42.35 and < 42.65 ? -12 : t is > 42.25 and < 42.75 ? null : 0), speed: 1000).Widened);
        Assert.Equal(Because.TooNarrow, stretch.Because);
        Assert.Contains("north.voice swells and falls within a beat", stretch.Text, StringComparison.Ordinal);
        Assert.True(stretch.From <= new Score.Quarters(42) && stretch.To >= new Score.Quarters(43));
    }

    // Half a beat of level between two stretches off.
    [Fact]
    public void No_room_between_off_and_off()
    {
        var (half, end) = (new Score.Quarters(65, 2), new Score.Quarters(80));
        var line = Line(
            Night.Off(0, 32),
            new LevelSegment.Straight(new Score.Quarters(32), half, null, Loudness.Decibels.Of(-10), Loudness.Decibels.Of(-10)),
            new LevelSegment.Off(half, end, null));
        var fitted = Fitted(Source(line, _ => 0));
        Assert.Equal("0:off 80:off", Spoken(fitted.Ride));
        var stretch = Assert.Single(fitted.Widened);
        Assert.Equal("bar 9: north.voice is off before and after, with no beat between on which it could be open", stretch.Text);
        Assert.Equal(48, stretch.By.Value, 1e-6);
    }
}
