using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Reports.Tests.Nights;

namespace Mixscore.Reports.Tests.Compare;

public class ComparePageTests
{
    private static readonly Decibels Tolerance = PlanComparison.UsualTolerance;

    [Fact]
    public void Two_versions_are_told_in_words_and_the_sources_that_differ_are_drawn()
    {
        var comparison = PlanComparison.Of(SampleNight.OnScore(), SampleNight.OnScore("5@2: -3"), ([SampleNight.Ride("north.voice"), SampleNight.Ride("north.horn")], [SampleNight.Ride("north.voice", 3), SampleNight.Ride("north.horn")]), Tolerance);
        var html = PlanComparePage.Write(comparison, ("<old>", "new"), ["what to know"]);
        Assert.Contains("&lt;old&gt; against new", html);
        Assert.Contains("<li>what to know</li>", html);
        Assert.Contains("data-source=\"north.voice\"", html);
        Assert.DoesNotContain("data-source=\"north.horn\"", html);
        Assert.Contains("<td>+3.0 dB</td>", html);
        Assert.DoesNotContain("http", html);
    }

    [Fact]
    public void Versions_that_do_not_differ_say_so()
    {
        var html = PlanComparePage.Write(PlanComparison.Of(SampleNight.OnScore(), SampleNight.OnScore(), null, Tolerance), ("a", "b"), []);
        Assert.Contains("Nothing differs", html);
        Assert.DoesNotContain("<article", html);
    }

    // The first night by hand at −4 over 5@2 to 8@2, the second by the plan at 0.
    [Fact]
    public void Two_nights_are_told_side_by_side_and_the_sources_that_stood_elsewhere_are_drawn()
    {
        var comparison = NightComparison.Of(SampleNight.OnScore(), SampleNight.Night("a.log.jsonl", SampleNight.Hand(32, 48, -4)), SampleNight.Night("b.log.jsonl"), Tolerance);
        var hands = Assert.Single(comparison.Hands);
        Assert.Equal(("5@2", "9", "A+4", HandKind.Hand, null), ($"{hands.Gains.Stretch.From}", $"{hands.Gains.Stretch.To}", hands.Gains.Stretch.Letter, hands.Before, hands.After));
        Assert.Equal((4, -4, 0), (hands.Gains.By!.Value.Value, hands.Gains.Was!.Value.Value, hands.Gains.Becomes!.Value.Value));
        var html = NightComparePage.Write(comparison);
        Assert.Contains("<td>hand −4.0 dB</td><td>plan 0.0 dB</td><td>+4.0 dB</td>", html);
        Assert.Contains("<td>taken once, 8 s in hand</td><td>planned</td>", html);
        Assert.DoesNotContain("<here>", html);
        Assert.DoesNotContain("http", html);
    }

    [Fact]
    public void What_one_night_played_alone_is_not_compared_and_said()
    {
        var night = SampleNight.Night("b.log.jsonl", SampleNight.Hand(0, 64, -9));
        var comparison = NightComparison.Of(SampleNight.OnScore(), SampleNight.Night("a.log.jsonl"), night with { Hands = night.Hands with { Played = [(0, 16)] } }, Tolerance);
        Assert.Equal(("1", "5"), ($"{Assert.Single(comparison.Hands).Gains.Stretch.From}", $"{comparison.Hands[0].Gains.Stretch.To}"));
        Assert.Contains("5 to end was played in a.log.jsonl alone, and is not compared.", NightWords.Summary(comparison));
    }
}
