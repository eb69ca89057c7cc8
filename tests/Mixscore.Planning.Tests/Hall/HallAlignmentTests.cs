using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.HallTests;

public sealed class HallAlignmentTests
{
    private const string Sites = """
        title: T
        score: s.musicxml
        hall: { temperature: 20 C, speakers: { left: 12 m, balcony: 27.5 m } }
        sites:
          near: { link: { delay: 20 ms, picture: 140 ms } }
          far:  { link: { delay: 58 ms, picture: 200 ms } }
          deaf: { link: { delay: 5 ms } }
        sources:
          near.voice: { role: voice, stem: a.wav, strip: 1 }
          far.horn: { role: instrument, stem: b.wav, strip: 2 }

        """;

    // ISO 9613-1 at 20 degrees: 12 m take 34.97 ms, 27.5 m 80.13 ms.
    [Fact]
    public void Strips_and_loudspeakers_wait_for_the_latest()
    {
        var alignment = HallAlignment.Of(Plans.Read(Sites));
        Assert.Equal([("near.voice", 0.038), ("far.horn", 0.0)], alignment.Strips.Select(strip => (strip.Source.Name, Math.Round(strip.Delay.Value, 6))));
        Assert.Equal([("left", 45.16), ("balcony", 0.0)], alignment.Loudspeakers.Select(one => (one.Loudspeaker.Name, Math.Round(one.Delay.Value * 1000, 2))));
    }

    // Lined up, all sound arrives at 58 + 80.13 = 138.13 ms.
    [Fact]
    public void Sound_leads_or_lags_each_picture()
    {
        var pictures = HallAlignment.Of(Plans.Read(Sites)).Pictures;
        Assert.Equal([("near", 1.87, PictureVerdict.Together), ("far", 61.87, PictureVerdict.Detectable)], pictures.Select(one => (one.Site.Name, Math.Round(one.Lead.Value * 1000, 2), one.Verdict)));
    }

    // Rec. ITU-R BT.1359-1 (1998): detectability +45 to −125 ms, acceptability +90 to −185 ms.
    [Theory]
    [InlineData(0, PictureVerdict.Together)]
    [InlineData(45, PictureVerdict.Together)]
    [InlineData(46, PictureVerdict.Detectable)]
    [InlineData(90, PictureVerdict.Detectable)]
    [InlineData(91, PictureVerdict.TooFar)]
    [InlineData(-125, PictureVerdict.Together)]
    [InlineData(-126, PictureVerdict.Detectable)]
    [InlineData(-185, PictureVerdict.Detectable)]
    [InlineData(-186, PictureVerdict.TooFar)]
    public void Limits_are_the_recommendations(double milliseconds, PictureVerdict verdict) => Assert.Equal(verdict, PictureTiming.Of(Seconds.FromMilliseconds(milliseconds)));

    [Theory]
    [InlineData("{ temperature: 20 C, speakers: { left: 12 m } }", null)]
    [InlineData("{ calibration: { bars: 1..4, level: 84 dBA } }", null)]
    [InlineData("{ temperature: hot }", "MX110")]
    [InlineData("{ speakers: { left: near } }", "MX110")]
    [InlineData("{ calibration: { bars: 4, level: 84 dBA } }", "MX112")]
    [InlineData("{ calibration: { bars: 1..4, level: 200 dBA } }", "MX111")]
    [InlineData("{ calibration: { bars: 1..4 } }", "MX107")]
    public void A_hall_is_read_or_told_wrong(string text, string? code)
    {
        var plan = Plans.Head + $"hall: {text}\n";
        if (code is null) Assert.NotNull(Plans.Read(plan).Hall);
        else Assert.Equal([code], Plans.FaultsOf(plan).Select(fault => fault.Code));
        if (code is null) Assert.True(PlanSchemaTests.IsValid(plan));
    }
}
