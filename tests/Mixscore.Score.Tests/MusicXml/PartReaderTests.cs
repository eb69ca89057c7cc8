namespace Mixscore.Score.Tests;

// How long bars are. MusicXML 4.0, divisions, duration, backup, forward, time; common practice for the rest.
public sealed class PartReaderTests
{
    private static string Note(int duration, string more = "") => $"<note>{more}<rest/><duration>{duration}</duration></note>";

    private static List<string> Lengths(WrittenScore score) => [.. score.Bars.Select(bar => bar.Length.ToString())];

    private static WrittenScore Read(params string[] bars) => Draw.Read(Draw.Partwise(bars));

    [Fact]
    public void Divisions_may_change_inside_a_part() =>
        Assert.Equal(["4", "4", "4"], Lengths(Read(Note(16), "<attributes><divisions>6</divisions></attributes>" + Note(24), Note(12) + "<attributes><divisions>480</divisions></attributes>" + Note(960))));

    [Fact]
    public void Voices_go_back_and_on_and_the_fullest_one_counts() =>
        Assert.Equal(["4"], Lengths(Read(Note(8) + "<backup><duration>8</duration></backup><forward><duration>12</duration></forward>" + Note(4))));

    [Fact]
    public void Chords_and_grace_notes_take_no_time_of_their_own_and_cue_notes_do() =>
        Assert.Equal(["3"], Lengths(Read(Note(4) + "<note><chord/><rest/><duration>4</duration></note><note><grace/><pitch><step>C</step><octave>4</octave></pitch></note><note><cue/><rest/><duration>8</duration></note>")));

    // Three eighths in the time of two: 8/3 divisions are not whole, so writers use a multiple of 3.
    [Fact]
    public void Tuplets_are_exact() =>
        Assert.Equal(["1"], Lengths(Read("<attributes><divisions>3</divisions></attributes>" + string.Concat(Enumerable.Repeat(Note(1), 3)))));

    [Fact]
    public void Pickups_and_split_bars_are_as_long_as_their_notes()
    {
        var score = Draw.Read(Draw.Score(("0", Note(4)), ("1", Draw.Whole), ("2", Note(8)), ("2", Note(8)), ("3", Draw.Whole)));
        Assert.Equal(["1", "4", "2", "2", "4"], Lengths(score));
        var timeline = TimelineBuilder.Build(score).Timeline;
        Assert.True(timeline.TryResolve(Position.Parse("2"), out var place, out _));
        Assert.Equal(new Quarters(5), place);
        // The second half has no number of its own; it is a bar after the first.
        Assert.Equal("2+1", timeline.PositionAt(new Quarters(7)).ToString());
    }

    [Theory]
    [InlineData("0", "1", "2")]
    [InlineData("3", "4", "5")]
    [InlineData("X1", "1", "2")]
    [InlineData("1", "2", "2a")]
    public void Numbers_are_taken_as_printed(params string[] numbers)
    {
        var score = Draw.Read(Draw.Score([.. numbers.Select(number => (number, Draw.Whole))]));
        Assert.Equal(numbers, score.Bars.Select(bar => bar.Label));
        Assert.All(score.Bars, bar => Assert.Equal(1, bar.Movement));
    }

    [Fact]
    public void Bars_without_a_number_are_known_by_their_place() =>
        Assert.Equal(["1", "2", "x_"], Draw.Read(Draw.Score(("", Draw.Whole), (" ", Draw.Whole), ("x*", Draw.Whole))).Bars.Select(bar => bar.Label));

    [Fact]
    public void Numbers_that_begin_again_begin_a_movement()
    {
        var score = Draw.Read(Draw.Score([.. ((string[])["1", "2", "3", "0", "1", "2", "1", "2"]).Select(number => (number, Draw.Whole))]));
        Assert.Equal([1, 1, 1, 2, 2, 2, 3, 3], score.Bars.Select(bar => bar.Movement));
        var timeline = TimelineBuilder.Build(score).Timeline;
        foreach (var (text, bar) in (ReadOnlySpan<(string, long)>)[("2", 1), ("II/2", 5), ("III/2", 7)])
        {
            Assert.True(timeline.TryResolve(Position.Parse(text), out var place, out _));
            Assert.Equal(new Quarters(4 * bar), place);
        }
    }

    [Fact]
    public void A_mark_of_many_rests_changes_only_the_drawing() =>
        Assert.Equal(["4", "4", "4"], Lengths(Read("<attributes><measure-style><multiple-rest>3</multiple-rest></measure-style></attributes>" + Note(16), Note(16), Note(16))));

    [Fact]
    public void An_empty_bar_lasts_its_meter_and_a_whole_bar_rest_what_it_says() =>
        Assert.Equal(["4", "3", "3"], Lengths(Read("", "<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>", Note(12))));

    [Fact]
    public void Parts_that_disagree_are_as_long_as_the_fullest_with_a_warning()
    {
        var xml = Draw.Partwise(Note(12)).Replace("</part></score-partwise>",
            "</part><part id=\"P2\"><measure number=\"1\"><attributes><divisions>1</divisions></attributes>" + Note(2) + "</measure></part></score-partwise>", StringComparison.Ordinal);
        var score = Draw.Read(xml);
        Assert.Equal(["3"], Lengths(score));
        Assert.Single(score.Warnings, warning => warning.Code == "MX053");
    }

    [Theory]
    [InlineData("3+2/8", "5/2", "<beats>3+2</beats><beat-type>8</beat-type>")]
    [InlineData("2/4+3/8", "7/2", "<beats>2</beats><beat-type>4</beat-type><beats>3</beats><beat-type>8</beat-type>")]
    [InlineData("6/8", "3", "<beats>6</beats><beat-type>8</beat-type>")]
    [InlineData("4/4", "4", "<beats>4</beats><beat-type>4</beat-type><interchangeable><beats>12</beats><beat-type>8</beat-type></interchangeable>")]
    public void Meters_of_every_kind_are_read(string text, string length, string time)
    {
        var bar = Read($"<attributes><time>{time}</time></attributes>").Bars[0];
        Assert.Equal((text, length), (bar.Meter.Text, bar.Length.ToString()));
    }

    // Two staves in two meters of one length: the top one's counts.
    [Fact]
    public void A_staff_with_a_meter_of_its_own_does_not_change_the_bars()
    {
        var bar = Read("<attributes><time number=\"1\"><beats>3</beats><beat-type>4</beat-type></time><time number=\"2\"><beats>9</beats><beat-type>8</beat-type></time></attributes>" + Note(12)).Bars[0];
        Assert.Equal("3/4", bar.Meter.Text);
    }

    // A whole-bar rest of a multi-rest, a meter change under it, a bar that has only a forward, one that has nothing at all.
    [Fact]
    public void Bars_without_notes_are_as_long_as_they_say_or_as_their_meter()
    {
        var meter = "<attributes><time><beats>3</beats><beat-type>4</beat-type></time><measure-style><multiple-rest>2</multiple-rest></measure-style></attributes>";
        Assert.Equal(["4", "3", "3", "2", "3"], Lengths(Read(
            Note(16), meter + "<note><rest measure=\"yes\"/><duration>12</duration></note>", "<note print-object=\"no\"><rest/><duration>12</duration></note>", "<forward><duration>8</duration></forward>", "")));
    }

    // Rests and notes of odd tuplets: five in the time of four and seven in the time of four sixteenths, in 35 divisions.
    [Fact]
    public void Odd_tuplets_add_up_exactly() =>
        Assert.Equal(["2"], Lengths(Read("<attributes><divisions>35</divisions></attributes>" + string.Concat(Enumerable.Repeat(Note(7), 5)) + string.Concat(Enumerable.Repeat(Note(5), 7)))));

    // A chord whose second note is written longer; a grace note that carries no duration; a note that should and does not.
    [Fact]
    public void Odd_notes_take_the_time_that_a_player_gives_them()
    {
        var score = Read(Note(4) + "<note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>12</duration></note><note><grace slash=\"yes\"/><pitch><step>C</step><octave>4</octave></pitch></note><note><rest/></note>" + Note(12));
        Assert.Equal(["4"], Lengths(score));
        Assert.Equal("MX031", Assert.Single(score.Warnings).Code);
    }

    [Fact]
    public void Without_meter_a_bar_is_as_long_as_its_notes()
    {
        var bar = Read("<attributes><time><senza-misura/></time></attributes>" + Note(22)).Bars[0];
        Assert.Equal(("free", "11/2"), (bar.Meter.Text, bar.Length.ToString()));
        Assert.Equal(6, PlayedBar.BeatsOf(Quarters.Zero, bar.Length, bar.Meter).Count);
    }

    [Fact]
    public void A_meter_that_is_said_again_and_again_changes_nothing()
    {
        var bars = Enumerable.Repeat("<attributes><time><beats>3</beats><beat-type>4</beat-type></time></attributes>" + Note(12), 24).ToArray();
        var score = Read(bars);
        Assert.All(score.Bars, bar => Assert.Equal("3/4", bar.Meter.Text));
        Assert.Empty(score.Warnings);
    }

    [Fact]
    public void What_is_not_understood_is_named_once_and_counted()
    {
        var score = Read("<marching/>" + Draw.Whole, "<marching/>" + Draw.Whole);
        var warning = Assert.Single(score.Warnings);
        Assert.Equal("MX030", warning.Code);
        Assert.Contains("bars 1, 2", warning.Found);
        Assert.Contains("P1", warning.Found);
        Assert.Contains("<marching>", warning.Found);
        Assert.Contains("2 times", warning.Found);
    }
}
