namespace Mixscore.Score.Tests;

/// <summary>
/// Forms as notation programs write them, each in a manner of its own, and what a player makes of them. Common practice, no
/// source, unless a line says otherwise; bars are drawn as in <see cref="PlayOrderTests"/>.
/// </summary>
public sealed class ExportedFormsTests
{
    [Theory]
    // A second ending that begins the next repeat; its bracket breaks off after a bar. After the MusicXML test suite, 45e.
    [InlineData("1-2 1 3-5 5-7 6 8-9 8-10", "", "[1 ] :|", "[2 ]~", "", "|: :|", "|:", "[1 ] :|", "[2 |: ]~", ":|", "")]
    // Five times, then a sign without a forward one, three times. After the MusicXML test suite, 45c.
    [InlineData("1-3 2-3 2-3 2-3 2-7 4-7 4-8", "", "|:", ":|5", "", "", "", ":|3", "")]
    // A forward sign that nothing closes. After the MusicXML test suite, 45g.
    [InlineData("1-2", "", "|:")]
    // Minuet and trio: D.C. al Fine in words; the trio repeats, the minuet does not do so again.
    [InlineData("1-2 1-4 3-6 5-6 1-4", "|:", ":|", "|:", ":|_Fine", "|:", ":|_Menuetto_D.C.")]
    // Verses: first and second ending, D.S. in the second, leaving to the coda from before the endings.
    [InlineData("1-4 2-3 5 2-3 6", "", "|: Segno", "To_Coda", "[1 ] :|", "[2 ] D.S._al_Coda", "Coda")]
    // The jump stands in the bar of the last repeat sign, the Fine in the first ending's neighbour.
    [InlineData("1-2 1 3-5 4-5 1 3", "", "[1 ] :|", "[2 ] fine=yes", "|:", ":| D.C._al_Fine")]
    // Three endings of which the first counts twice.
    [InlineData("1-2 1-2 1 3 1 4-5", "", "[1,2 ] :|", "[3 ] :|", "[4 ]", "")]
    // A coda inside a repeat; the coda itself repeats.
    [InlineData("1-3 2 4-5 4-5", "", "Segno To_Coda", "D.S._al_Coda", "|: Coda", ":|")]
    // Brackets without a repeat sign are no repeat: what follows them goes back to before them. After the MusicXML test suite, 45f.
    [InlineData("1-4 1-5", "", "[1,2,3 ]", "[2 ]~", "] :|", "")]
    // A plain D.S. beside one that says al Fine, or al Coda, does not end there.
    [InlineData("1-4 1-6 1-3", "Segno", "", "Fine", "D.S.", "", "D.S._al_Fine")]
    [InlineData("1-3 1-4 1-2 5", "Segno", "To_Coda", "D.S.", "D.S._al_Coda", "Coda")]
    // Two codas, named by number.
    [InlineData("1-4 2 6 2-3 7", "", "Segno To_Coda_1", "To_Coda_2", "D.S._al_Coda", "", "Coda_1 D.S._al_Coda", "Coda_2")]
    public void Whole_forms(string expected, params string[] bars) => Assert.Equal(expected, Draw.Order(Draw.Read(Draw.Bars([.. bars.Select(bar => bar.Replace(":|_", ":| ", StringComparison.Ordinal))]))));

    [Theory]
    [InlineData("D.C. al Fine")]
    [InlineData("D. C. al Fine")]
    [InlineData("DC al Fine")]
    [InlineData("Da Capo al Fine")]
    [InlineData("da capo\nal fine")]
    [InlineData("(D.C. al Fine)")]
    [InlineData("Menuetto da capo al Fine senza replica")]
    [InlineData("D.C. sin' al fine")]
    [InlineData("Da capo bis Fine")]
    [InlineData("Vom Anfang bis zum Schluss")]
    [InlineData("D.C. to Fine")]
    public void Da_capo_is_said_in_many_ways(string words) =>
        Assert.Equal("1-3 1-2", Draw.Order(Draw.Read(Draw.Partwise(Draw.Whole, Draw.Whole + Draw.Words("Fine"), Draw.Whole + Draw.Words(words)))));

    [Theory]
    [InlineData("Fine")]
    [InlineData("FINE")]
    [InlineData("fine.")]
    [InlineData("(Fine)")]
    [InlineData("Fin")]
    [InlineData("Ende")]
    [InlineData("Schluß")]
    public void So_is_the_end(string words) =>
        Assert.Equal("1-3 1-2", Draw.Order(Draw.Read(Draw.Partwise(Draw.Whole, Draw.Whole + Draw.Words(words), Draw.Whole + Draw.Words("D.C.")))));

    [Theory]
    [InlineData("D.S. al Coda", "To Coda", "Coda")]
    [InlineData("D. S. al Coda", "to Coda", "CODA")]
    [InlineData("DS al Coda", "To 𝄌", "𝄌")]
    [InlineData("Dal Segno al Coda", "al Coda", "Coda:")]
    [InlineData("D.𝄋 al 𝄌", "Da Coda", "Coda")]
    [InlineData("dal segno e poi la coda", "To Coda ⊕", "⊕ Coda")]
    [InlineData("Dal S. al Coda", "Go to Coda", "the Coda")]
    [InlineData("Vom Zeichen zur Coda", "zur Coda", "Coda")]
    public void So_are_segno_and_coda(string back, string leave, string coda) =>
        Assert.Equal("1-4 2-3 5", Draw.Order(Draw.Read(Draw.Partwise(Draw.Whole, Draw.Words("𝄋") + Draw.Whole, Draw.Whole + Draw.Words(leave), Draw.Whole + Draw.Words(back), Draw.Words(coda) + Draw.Whole))));

    // Only signs: a segno, a coda sign to leave at, another where the coda is, and "D.S. al Coda".
    [Fact]
    public void Signs_without_words_are_paired_by_their_order()
    {
        static string Sign(string name) => $"<direction><direction-type><{name}/></direction-type></direction>";
        var score = Draw.Read(Draw.Partwise(Draw.Whole, Sign("segno") + Draw.Whole, Draw.Whole + Sign("coda"), Draw.Whole + Draw.Words("D.S. al Coda"), Sign("coda") + Draw.Whole));
        Assert.Equal("1-4 2-3 5", Draw.Order(score));
    }

    // Words that only sound like signs.
    [Theory]
    [InlineData("fine tuning")]
    [InlineData("Coda alla marcia")]
    [InlineData("in the end")]
    [InlineData("D.C. power")]
    public void Other_words_lead_nowhere(string words)
    {
        var order = PlayOrder.Unfold(Draw.Read(Draw.Partwise(Draw.Whole, Draw.Whole + Draw.Words(words), Draw.Whole)));
        Assert.Equal("1-3", Draw.Order(order));
    }

    // A repeat sign on the barline that it stands on by another bar's account: a backward one on the left barline ends the
    // bar before, a forward one on the right begins the next; so do brackets.
    [Theory]
    [InlineData("1-2 1-3", "", "", "<barline location=\"left\"><repeat direction=\"backward\"/></barline>")]
    [InlineData("1-3 2-3", "<barline location=\"right\"><repeat direction=\"forward\"/></barline>", "", "<barline location=\"right\"><repeat direction=\"backward\"/></barline>")]
    [InlineData("1-3 2-3", "", "<barline><repeat direction=\"forward\"/></barline>", "<barline location=\"right\"><repeat direction=\"backward\"/></barline>")]
    [InlineData("1-2 1 3", "", "<barline location=\"left\"><ending number=\"1\" type=\"start\"/></barline>", "<barline location=\"left\"><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/></barline>")]
    [InlineData("1-2 1 3", "<barline location=\"right\"><ending number=\" \" type=\"start\">1.</ending></barline>", "", "<barline location=\"left\"><ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/></barline>")]
    public void A_sign_belongs_to_the_barline_that_it_stands_on(string expected, params string[] barlines) =>
        Assert.Equal(expected, Draw.Order(Draw.Read(Draw.Partwise([.. barlines.Select(barline => barline.Contains("right", StringComparison.Ordinal) ? Draw.Whole + barline : barline + Draw.Whole)]))));

    // What only another part than the first says: repeats, brackets, words, marks for playing.
    [Theory]
    [InlineData("1-2 1 3-4", "", "[1 ] :|", "[2 ]", "")]
    [InlineData("1-4 1-2", "", "Fine", "", "D.C._al_Fine")]
    [InlineData("1-4 2-3 5", "", "segno=s", "tocoda=c", "dalsegno=s", "coda=c")]
    public void Signs_may_stand_in_any_part(string expected, params string[] bars)
    {
        var plain = Draw.Bars([.. bars.Select(_ => "")]);
        var other = Draw.Bars(bars).Replace("id=\"P1\"", "id=\"P2\"", StringComparison.Ordinal);
        var part = other[other.IndexOf("<part id", StringComparison.Ordinal)..];
        var score = Draw.Read(plain.Replace("</score-partwise>", part, StringComparison.Ordinal));
        Assert.Equal(2, score.Parts.Count);
        Assert.Equal(expected, Draw.Order(score));
    }

    // Signs that every part repeats count once.
    [Fact]
    public void Signs_that_all_parts_repeat_count_once()
    {
        var one = Draw.Bars("|:", "[1 ] :|3", "[3 ] To_Coda", "D.C._al_Coda", "Coda");
        var part = one[one.IndexOf("<part id", StringComparison.Ordinal)..].Replace("id=\"P1\"", "id=\"P2\"", StringComparison.Ordinal);
        Assert.Equal(Draw.Order(Draw.Read(one)), Draw.Order(Draw.Read(one.Replace("</score-partwise>", part, StringComparison.Ordinal))));
    }
}
