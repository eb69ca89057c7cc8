namespace Mixscore.Score.Tests;

// Signatures that name several meters. The format does not tell a sum from turns (MusicXML 4.0, time); the bars do.
// The quarter has four divisions.
public sealed class BarMetersTests
{
    private const string ThreeAndTwo = "<attributes><time><beats>3</beats><beat-type>4</beat-type><beats>2</beats><beat-type>4</beat-type></time></attributes>";

    private static string Rest(int quarters) => $"<note><rest/><duration>{4 * quarters}</duration></note>";

    private static WrittenScore Read(params string[] bars) => Draw.Read(Draw.Partwise(bars));

    private static IEnumerable<string> Meters(WrittenScore score) => score.Bars.Select(bar => $"{bar.Meter} {bar.Length}");

    [Fact]
    public void Bars_as_long_as_each_in_turn_take_turns_and_a_warning_says_so()
    {
        var score = Read(ThreeAndTwo + Rest(3), Rest(2), "", Rest(2), "<attributes><time><beats>4</beats><beat-type>4</beat-type></time></attributes>" + Rest(4));
        Assert.Equal(["3/4 3", "2/4 2", "3/4 3", "2/4 2", "4/4 4"], Meters(score));
        Assert.Single(score.Warnings, warning => warning.Code == "MX058");
    }

    [Fact]
    public void Bars_as_long_as_both_together_have_the_sum()
    {
        var score = Read(ThreeAndTwo + Rest(5), Rest(5));
        Assert.Equal(["3/4+2/4 5", "3/4+2/4 5"], Meters(score));
        Assert.Empty(score.Warnings);
    }

    [Fact]
    public void Where_no_bar_tells_the_sum_is_taken_with_a_warning()
    {
        var score = Read(ThreeAndTwo, "");
        Assert.Equal(["3/4+2/4 5", "3/4+2/4 5"], Meters(score));
        Assert.Single(score.Warnings, warning => warning.Code == "MX058");
    }

    [Fact]
    public void Of_interchangeable_meters_each_bar_has_the_one_that_it_is_as_long_as()
    {
        var either = "<attributes><time><beats>2</beats><beat-type>4</beat-type><interchangeable><beats>3</beats><beat-type>4</beat-type></interchangeable></time></attributes>";
        Assert.Equal(["2/4 2", "3/4 3", "3/4 3", "2/4 1"], Meters(Read(either + Rest(2), Rest(3), Rest(3), Rest(1))));
    }
}
