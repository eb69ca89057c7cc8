using System.Text.RegularExpressions;

namespace Mixscore.Reports.Tests.Nights;

public partial class NightPageTests
{
    private static readonly string Html = NightPage.Write(SampleNight.OnScore(), SampleNight.Night("a.log.jsonl", SampleNight.Hand(32, 40, -4), SampleNight.Hand(40, 48, -6)));

    [Fact]
    public void The_page_fetches_nothing_from_elsewhere() => Assert.DoesNotMatch(Elsewhere(), Html);

    [Fact]
    public void Words_from_the_night_cannot_break_the_page()
    {
        Assert.Contains("Sample &amp; &lt;test&gt;", Html);
        Assert.Contains("softer &lt;here&gt;", Html);
        Assert.DoesNotContain("<here>", Html);
        Assert.DoesNotContain("<quay>", Html);
    }

    // A hand that moved within is one hand: bars 5@2 to 8@2, eight seconds.
    [Fact]
    public void Each_source_that_was_touched_has_its_plot_with_its_hands_and_what_was_gone()
    {
        Assert.Equal(2, Regex.Count(Html, "<article "));
        Assert.Contains("taken once, 8 s in hand", Html);
        Assert.Contains("<title>5@2 to 9: hand</title>", Html);
        Assert.Contains("<title>7@2 to 8@2: north.horn is silent</title>", Html);
    }

    [Fact]
    public void The_night_is_told_by_bar_with_its_figures()
    {
        Assert.Contains("mtc, held 0 times", Html);
        Assert.Contains("1, the latest by 80 ms", Html);
        Assert.Contains("<dt>Bar 5@2</dt><dd>beat 2: north.voice taken at -4.0 dB</dd>", Html);
        Assert.Contains("line 4 cannot be read", Html);
    }

    [Fact]
    public void No_number_is_written_that_a_browser_cannot_read() => Assert.DoesNotMatch(NotANumber(), Html);

    [GeneratedRegex("(src|href)=\"(https?:)?//|@import|url\\(http")]
    private static partial Regex Elsewhere();

    [GeneratedRegex("NaN|Infinity|∞|\\d,\\d+ \\d")]
    private static partial Regex NotANumber();
}
