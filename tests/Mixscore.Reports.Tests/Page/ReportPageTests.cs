using System.Text.RegularExpressions;

namespace Mixscore.Reports.Tests.Page;

public partial class ReportPageTests
{
    private static readonly string Html = ReportPage.Write(SampleReport.Make());

    [Fact]
    public void The_page_fetches_nothing_from_elsewhere() => Assert.DoesNotMatch(Elsewhere(), Html);

    [Fact]
    public void The_verdict_stands_before_everything_else_and_in_words()
    {
        Assert.Contains("Falls short", Html);
        Assert.True(Html.IndexOf("class=\"verdict", StringComparison.Ordinal) < Html.IndexOf("<svg", StringComparison.Ordinal));
        Assert.Contains("north.voice sits within its level on", Html);
    }

    [Fact]
    public void Words_from_the_plan_cannot_break_the_page()
    {
        Assert.Contains("Sample &amp; &lt;test&gt;", Html);
        Assert.DoesNotContain("<test>", Html);
    }

    [Fact]
    public void Every_source_has_its_plot_its_table_and_its_notes()
    {
        Assert.Equal(2, Regex.Count(Html, "class=\"plot (voice|ambient)\""));
        Assert.Equal(2, Regex.Count(Html, "<details>"));
        Assert.Contains("arrives 4 dB too quiet", Html);
        Assert.Contains("ends in bar 39", Html);
    }

    [Fact]
    public void Dropouts_and_noise_of_the_link_are_told_apart_in_words()
    {
        Assert.Equal(2, Regex.Count(Html, "<rect class=\"drop\"[^>]*><title>the link drops out</title>"));
        Assert.Equal(1, Regex.Count(Html, "<rect class=\"burst\"[^>]*><title>noise of the link</title>"));
    }

    [Fact]
    public void Bars_are_told_with_their_pass() => Assert.Contains("21@2", Html);

    [Fact]
    public void No_number_is_written_that_a_browser_cannot_read() => Assert.DoesNotMatch(NotANumber(), Html);

    [GeneratedRegex("(src|href)=\"(https?:)?//|@import|url\\(http")]
    private static partial Regex Elsewhere();

    [GeneratedRegex("NaN|Infinity|∞|\\d,\\d+ \\d")]
    private static partial Regex NotANumber();
}
