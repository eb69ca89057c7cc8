namespace Mixscore.Score.Tests;

// MusicXML 4.0, sound, metronome and offset. Bars of four quarters; the quarter has four divisions.
public sealed class TempoMarksTests
{
    private const string Half = "<note><rest/><duration>8</duration></note>";

    private static string Metronome(string number, string more = "") =>
        $"<direction><direction-type><metronome><beat-unit>quarter</beat-unit><per-minute>{number}</per-minute></metronome></direction-type>{more}</direction>";

    private static string Offset(int divisions, string sound) => $"<offset{sound}>{divisions}</offset>";

    private static List<string> Tempi(WrittenScore score) => [.. score.Tempo.Select(mark => FormattableString.Invariant($"{mark.At.Bar}+{mark.At.Offset} {mark.QuartersPerMinute:0.##}"))];

    private static WrittenScore Read(params string[] bars) => Draw.Read(Draw.Partwise(bars));

    [Fact]
    public void The_mark_for_playing_wins_over_the_printed_one_with_a_warning()
    {
        var score = Read(Metronome("80", "<sound tempo=\"72\"/>") + Draw.Whole);
        Assert.Equal(["1+0 72"], Tempi(score));
        Assert.Single(score.Warnings, warning => warning.Code == "MX044");
        Assert.DoesNotContain(Read(Metronome("80", "<sound tempo=\"80\"/>") + Draw.Whole).Warnings, warning => warning.Code == "MX044");
    }

    [Fact]
    public void A_printed_mark_alone_counts() => Assert.Equal(["1+0 80"], Tempi(Read(Metronome("80") + Draw.Whole)));

    [Fact]
    public void A_mark_inside_a_bar_stands_where_it_is_written() =>
        Assert.Equal(["1+0 60", "1+2 90"], Tempi(Read(Draw.Sound("tempo=\"60\"") + Half + Draw.Sound("tempo=\"90\"") + Half)));

    // An offset moves only the print unless it says that it moves the sound; a sound's own offset always does.
    [Theory]
    [InlineData("1+2", "")]
    [InlineData("1+2", " sound=\"no\"")]
    [InlineData("1+3", " sound=\"yes\"")]
    public void An_offset_moves_the_time_only_where_it_says_so(string place, string sound)
    {
        Assert.Equal([$"{place} 90"], Tempi(Read(Half + Metronome("90", Offset(4, sound)) + Half)));
        Assert.Equal([$"{place} 90"], Tempi(Read(Half + Metronome("90", Offset(4, sound) + "<sound tempo=\"90\"/>") + Half)));
    }

    [Fact]
    public void An_offset_of_the_sound_itself_moves_it() =>
        Assert.Equal(["1+3/2 90"], Tempi(Read(Half + "<direction><direction-type><words>x</words></direction-type><sound tempo=\"90\"><offset>-2</offset></sound></direction>" + Half)));

    [Fact]
    public void A_sound_without_a_direction_counts() => Assert.Equal(["1+0 66"], Tempi(Read("<sound tempo=\"66\"/>" + Draw.Whole)));

    [Fact]
    public void A_mark_at_the_very_end_of_a_bar_holds_from_the_next() =>
        Assert.Equal(["2+0 90"], Tempi(Read(Draw.Whole + Draw.Sound("tempo=\"90\""), Draw.Whole)));

    [Fact]
    public void A_mark_in_another_part_than_the_first_counts()
    {
        var xml = Draw.Partwise(Draw.Whole, Draw.Whole).Replace("</part></score-partwise>",
            "</part><part id=\"P2\"><measure number=\"1\"><attributes><divisions>1</divisions></attributes></measure><measure number=\"2\">" + Draw.Sound("tempo=\"50\"") + "</measure></part></score-partwise>", StringComparison.Ordinal);
        Assert.Equal(["2+0 50"], Tempi(Draw.Read(xml)));
    }

    [Fact]
    public void A_range_and_a_relation_are_taken_with_a_warning()
    {
        var range = Read(Metronome("72-76") + Draw.Whole);
        Assert.Equal(["1+0 74"], Tempi(range));
        Assert.Single(range.Warnings, warning => warning.Code == "MX041");
        var relation = Read(Metronome("60") + Draw.Whole, "<direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit>half</beat-unit></metronome></direction-type></direction>" + Draw.Whole);
        Assert.Equal(["1+0 60", "2+0 120"], Tempi(relation));
        Assert.Single(relation.Warnings, warning => warning.Code == "MX045");
    }

    // 0 means "ask the user" (MusicXML 4.0, sound); the tempo before goes on and a warning says so.
    [Theory]
    [InlineData("0")]
    [InlineData("-60")]
    [InlineData("1e9")]
    public void A_tempo_that_cannot_be_is_left_out_with_a_warning(string tempo)
    {
        var score = Read(Draw.Sound($"tempo=\"{tempo}\"") + Draw.Whole);
        Assert.Empty(score.Tempo);
        Assert.Single(score.Warnings, warning => warning.Code == "MX042");
    }

    [Fact]
    public void A_mark_that_cannot_be_read_is_left_out_with_a_warning() =>
        Assert.Single(Read(Metronome("lively") + Draw.Whole).Warnings, warning => warning.Code == "MX040");

    [Theory]
    [InlineData("poco rit.", TempoChange.Slower)]
    [InlineData("rallentando", TempoChange.Slower)]
    [InlineData("allarg.", TempoChange.Slower)]
    [InlineData("accel. poco a poco", TempoChange.Faster)]
    [InlineData("stringendo", TempoChange.Faster)]
    [InlineData("a tempo", TempoChange.Back)]
    [InlineData("Tempo I", TempoChange.Back)]
    [InlineData("Tempo primo", TempoChange.Back)]
    public void Words_of_gradual_change_are_found(string words, TempoChange change)
    {
        var found = Assert.Single(Read(Draw.Whole, Half + Draw.Words(words) + Half).GradualTempo);
        Assert.Equal((new WrittenPlace(2, new Quarters(2)), words, change), (found.At, found.Words, found.Change));
    }

    [Theory]
    [InlineData("spirito")]
    [InlineData("Ritornello")]
    [InlineData("with spirit")]
    public void Other_words_are_not(string words) => Assert.Empty(Read(Draw.Words(words) + Draw.Whole).GradualTempo);

    [Fact]
    public void Fermatas_are_found_on_notes_and_barlines()
    {
        var score = Read(Half + "<note><rest/><duration>8</duration><notations><fermata/></notations></note>", Draw.Whole + Draw.Right("<fermata/>"));
        Assert.Equal([new WrittenPlace(1, new Quarters(2)), new WrittenPlace(2, new Quarters(4))], score.Fermatas);
    }
}
