namespace Mixscore.Score.Tests;

// MusicXML 4.0, dynamics, wedge, offset. Bars of four quarters; the quarter has four divisions.
public sealed class DynamicsTests
{
    private const string Half = "<note><rest/><duration>8</duration></note>";

    private static string Type(string content, string more = "") => $"<direction><direction-type>{content}</direction-type>{more}</direction>";

    private static Part Read(params string[] bars) => Draw.Read(Draw.Partwise(bars)).Parts[0];

    // All marks of MusicXML 4.0, dynamics; other-dynamics gives its text.
    [Theory]
    [InlineData("p", "pp", "ppp", "pppp", "ppppp", "pppppp", "f", "ff", "fff", "ffff", "fffff", "ffffff", "mp", "mf", "sf", "sfp", "sfpp", "fp", "rf", "rfz", "sfz", "sffz", "fz", "n", "pf", "sfzp")]
    public void Every_mark_is_taken_by_its_letters(params string[] marks)
    {
        var part = Read(string.Concat(marks.Select(mark => Type($"<dynamics><{mark}/></dynamics>"))) + Draw.Whole);
        Assert.Equal(marks, part.Dynamics.Select(mark => mark.Text));
    }

    [Fact]
    public void Other_marks_marks_on_notes_and_loudness_for_playing_are_taken()
    {
        var part = Read(Type("<dynamics><other-dynamics>pfz</other-dynamics></dynamics>", "<staff>2</staff><sound dynamics=\"71\"/>") + Half
            + "<note><rest/><duration>8</duration><notations><dynamics><mf/></dynamics></notations></note>");
        Assert.Equal([new DynamicMark(new WrittenPlace(1, Quarters.Zero), "pfz", 2, 71), new DynamicMark(new WrittenPlace(1, new Quarters(2)), "mf")], part.Dynamics);
    }

    //  | <-------- | -> |     from beat 1 of bar 1 to beat 3 of bar 2
    [Fact]
    public void A_hairpin_goes_from_its_start_to_its_stop() =>
        Assert.Equal(
            [new Hairpin(new WrittenPlace(1, Quarters.Zero), new WrittenPlace(2, new Quarters(2)), Grows: true)],
            Read(Type("<wedge type=\"crescendo\"/>") + Draw.Whole, Half + Type("<wedge type=\"stop\"/>") + Half).Hairpins);

    [Theory]
    [InlineData("1", "")]
    [InlineData("1", " sound=\"no\"")]
    [InlineData("3/2", " sound=\"yes\"")]
    public void An_offset_moves_a_hairpin_only_where_it_says_so(string stop, string sound)
    {
        var quarter = "<note><rest/><duration>4</duration></note>";
        var hairpin = Assert.Single(Read(Type("<wedge type=\"diminuendo\"/>") + quarter + Type("<wedge type=\"stop\"/>", $"<offset{sound}>2</offset>") + quarter + Half).Hairpins);
        Assert.Equal((stop, false), (hairpin.To.Offset.ToString(), hairpin.Grows));
    }

    [Fact]
    public void Numbers_and_staves_tell_hairpins_apart()
    {
        var part = Read(Type("<wedge type=\"crescendo\" number=\"1\"/>") + Type("<wedge type=\"diminuendo\" number=\"2\"/>", "<staff>2</staff>") + Half
            + Type("<wedge type=\"stop\" number=\"2\"/>", "<staff>2</staff>") + Half + Type("<wedge type=\"stop\" number=\"1\" niente=\"yes\"/>"));
        Assert.Equal([(true, 4L, 1, true), (false, 2L, 2, false)], part.Hairpins.OrderBy(hairpin => hairpin.Staff).Select(hairpin => (hairpin.Grows, hairpin.To.Offset.Value.Numerator, hairpin.Staff, hairpin.Niente)));
    }

    [Fact]
    public void A_hairpin_that_is_left_open_ends_with_its_bar_and_a_stop_too_many_is_named()
    {
        var score = Draw.Read(Draw.Partwise(Type("<wedge type=\"stop\"/>") + Half + Type("<wedge type=\"crescendo\"/>") + Half, Draw.Whole));
        Assert.Equal(new WrittenPlace(1, new Quarters(4)), Assert.Single(score.Parts[0].Hairpins).To);
        Assert.Equal(["MX037", "MX038"], score.Warnings.Select(warning => warning.Code).Order());
    }

    [Theory]
    [InlineData("cresc.", LoudnessChange.Grows)]
    [InlineData("cresc. poco a poco", LoudnessChange.Grows)]
    [InlineData("dim.", LoudnessChange.Falls)]
    [InlineData("decresc.", LoudnessChange.Falls)]
    [InlineData("più f", LoudnessChange.Louder)]
    [InlineData("piu forte", LoudnessChange.Louder)]
    [InlineData("meno f", LoudnessChange.Softer)]
    [InlineData("più p", LoudnessChange.Softer)]
    [InlineData("sempre pp", LoudnessChange.Level)]
    [InlineData("subito p", LoudnessChange.Level)]
    public void Words_of_loudness_are_taken(string words, LoudnessChange change) =>
        Assert.Equal(change, Assert.Single(Read(Draw.Words(words) + Draw.Whole).DynamicWords).Change);

    [Fact]
    public void Dashes_say_how_far_the_words_reach()
    {
        var words = Assert.Single(Read(Draw.Words("cresc.") + Type("<dashes type=\"start\"/>") + Draw.Whole, Half + Type("<dashes type=\"stop\"/>") + Half).DynamicWords);
        Assert.Equal(new WrittenPlace(2, new Quarters(2)), words.To);
    }
}
