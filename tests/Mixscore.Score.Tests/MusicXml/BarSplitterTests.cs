namespace Mixscore.Score.Tests;

// Repeat signs inside bars: common practice, no source. The quarter has four divisions; each bar has four quarters.
public sealed class BarSplitterTests
{
    private const string Half = "<note><pitch><step>C</step><octave>4</octave></pitch><duration>8</duration></note>";

    private static string Middle(string signs) => $"<barline location=\"middle\">{signs}</barline>";

    private const string Backward = "<repeat direction=\"backward\"/>";
    private const string Forward = "<repeat direction=\"forward\"/>";

    private static (WrittenScore Score, Timeline Timeline) Read(params string[] bars)
    {
        var score = Draw.Read(Draw.Partwise(bars));
        return (score, TimelineBuilder.Build(score).Timeline);
    }

    private static string Played(Timeline timeline) => string.Join(' ', timeline.Bars.Select(bar => $"{timeline.PositionAt(bar.Start)}={bar.Length}"));

    //  | 1 . . . | 2 . :| . . | 3 . . . |      the second half of bar 2 follows only the second time
    [Fact]
    public void A_backward_sign_goes_back_from_where_it_stands()
    {
        var (score, timeline) = Read(Draw.Whole, Half + Middle(Backward) + Half, Draw.Whole);
        Assert.Equal("1=4 2=2 1@2=4 2@2=2 2@2+1=2 3=4", Played(timeline));
        Assert.Single(score.Warnings, warning => warning.Code == "MX035");
    }

    //  | 1 . |: . . | 2 . . . :|
    [Fact]
    public void A_forward_sign_is_where_the_repeat_begins() =>
        Assert.Equal("1=2 1+1=2 2=4 2+1=2 2@2=4", Played(Read(Half + Middle(Forward) + Half, Draw.Whole + Draw.Right(Backward)).Timeline));

    [Fact]
    public void Marks_notes_and_hairpins_move_with_the_halves()
    {
        var hairpin = "<direction><direction-type><wedge type=\"crescendo\"/></direction-type></direction>";
        var stop = "<direction><direction-type><wedge type=\"stop\"/></direction-type></direction>";
        var (score, timeline) = Read(Half + hairpin + Middle(Backward) + Draw.Sound("tempo=\"60\"") + Half, Half + stop + "<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>" + Half);
        Assert.Equal(3, score.Bars.Count);
        Assert.Equal(new WrittenPlace(2, Quarters.Zero), Assert.Single(score.Tempo).At);
        Assert.Equal([1, 2, 3, 3], score.Parts[0].Notes.Select(note => note.Start.Bar));
        Assert.Equal(new WrittenPlace(3, new Quarters(2)), Assert.Single(score.Parts[0].Hairpins).To);
        Assert.Equal(3, Assert.Single(score.Letters).Bar);
        Assert.Equal(4, timeline.Bars.Count);
        Assert.Equal(["0", "2", "4", "6", "8"], Performance.Of(score, timeline).Parts[0].Notes.Select(note => note.Start.ToString()));
    }

    [Fact]
    public void A_sign_that_says_it_is_inside_but_stands_at_the_end_is_the_bars_own() =>
        Assert.Equal("1=4 1@2=4 2=4", Played(Read(Half + Half + Middle(Backward), Draw.Whole).Timeline));

    [Fact]
    public void Endings_inside_bars_are_cut_there_too() =>
        Assert.Equal(
            "1-2 1 3-4",
            Draw.Order(Read(Half + Middle("<ending number=\"1\" type=\"start\"/>") + Half + Draw.Right("<ending number=\"1\" type=\"stop\"/>" + Backward), Draw.Left("<ending number=\"2\" type=\"start\"/>") + Draw.Whole + Draw.Right("<ending number=\"2\" type=\"discontinue\"/>"), Draw.Whole).Score));
}
