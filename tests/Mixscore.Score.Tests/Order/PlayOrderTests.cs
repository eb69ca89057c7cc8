namespace Mixscore.Score.Tests;

// Common practice, no source, unless a line says otherwise. Each case draws its bars: |: and :| are repeat signs,
// [1 … ] an ending, :|3 "three times", name=value a mark for playing (sound), other words as printed (_ for a blank).
public sealed class PlayOrderTests
{
    [Theory]
    // no sign at all
    [InlineData("1-3", "", "", "")]
    // a backward sign without a forward one goes back to the start, the second one to behind the first
    [InlineData("1-2 1-4 3-4", "", ":|", "", ":|")]
    [InlineData("1-3 2-4", "", "|:", ":|", "")]
    // three and six times
    [InlineData("1-2 1-2 1-3", "", ":|3", "")]
    [InlineData("1 1 1 1 1 1-2", ":|6", "")]
    [InlineData("1-2 1-2 1-2 1-3", "", ":|4", "")]
    [InlineData("1 1 1 1 1-2", ":|5", "")]
    // nested
    [InlineData("1-3 2-4 1-3 2-5", "|:", "|:", ":|", ":|", "")]
    // first and second ending
    [InlineData("1-2 1 3-4", "", "[1 ] :|", "[2 ]", "")]
    // a first ending without a second is left out the second time
    [InlineData("1-2 1 3", "", "[1 ] :|", "")]
    // lists and ranges
    [InlineData("1-2 1-2 1-2 1 3", "", "[1,2,3 ] :|4", "[4 ]")]
    [InlineData("1-2 1-2 1-2 1 3", "", "[1-3 ] :|", "[4 ]~")]
    [InlineData("1-2 1 3 1 4 1 5 1 4 1 5 1 4 1 6", "", "[1 ] :|", "[2 ] :|", "[3,5,7 ] :|", "[4,6 ] :|", "[8 ]")]
    // endings of several bars; the first one's bracket breaks off before its repeat sign
    [InlineData("1-4 1 5-6", "", "[1 ]~", "", ":|", "[2 ]~", "")]
    // the second ending has a repeat sign as well
    [InlineData("1-2 1 3-4", "", "[1 ] :|", "[2 ] :|", "")]
    // a repeat inside an ending
    [InlineData("1-3 2-4 1 5", "|:", "[1 |:", ":|", "] :|", "[2 ]")]
    // D.C. al Fine: repeats are not taken again
    [InlineData("1-2 1-4 1-2", "", ":| fine=yes", "", "dacapo=yes")]
    // D.C. after the repeat of its own bar is done, with a coda
    [InlineData("1-3 1-3 1-2 4-5", "|:", "tocoda=c", ":| dacapo=yes", "coda=c", "")]
    // D.S. al Coda, al Fine; the last ending after the jump
    [InlineData("1-4 2-3 5", "", "segno=s", "tocoda=c", "dalsegno=s", "coda=c")]
    [InlineData("1-3 2 4-5 2 4", "", "|: segno=s", "[1 ] :|", "[2 ] fine=yes", "dalsegno=s")]
    // several segni and codas: the names pair them, not the nearness
    [InlineData("1-5 2-4 7", "", "segno=a", "segno=b", "tocoda=y", "dalsegno=a", "coda=x", "coda=y")]
    [InlineData("1-5 3-4 6-7", "", "segno=a", "segno=b", "tocoda=x", "dalsegno=b", "coda=x", "coda=y")]
    // after the jump the repeat is not taken again, and Fine acts at the end of its bar
    [InlineData("1-3 2-5 2-4", "", "|: segno=s", ":|", "fine=yes", "dalsegno=s")]
    // only words, only signs
    [InlineData("1-4 2-3 5", "", "Segno", "To_Coda", "D.S._al_Coda", "Coda")]
    [InlineData("1-4 1-2", "", "Fine", "", "D.C._al_Fine")]
    // words alone that do not say where to stop are left out
    [InlineData("1-3", "", "", "D.C.")]
    // a Fine bar that also carries To Coda: the words after the jump decide
    [InlineData("1-3 1-2", "", "fine=yes tocoda=c", "D.C._al_Fine dacapo=yes", "coda=c")]
    [InlineData("1-3 1-2 4", "", "fine=yes tocoda=c", "D.C._al_Coda dacapo=yes", "coda=c")]
    // To Coda without any jump back: the last time through the repeat
    [InlineData("1-3 1-2 4", "|:", "tocoda=c", ":|", "coda=c")]
    // Fine without a jump back is no end
    [InlineData("1-3", "", "fine=yes", "")]
    // a D.S. without a segno is left out
    [InlineData("1-3", "", "fine=yes", "dalsegno=s")]
    public void Bars_are_played_in_the_order_that_a_player_plays_them(string expected, params string[] bars) =>
        Assert.Equal(expected, Draw.Order(Draw.Read(Draw.Bars(bars))));

    [Theory]
    [InlineData("1-4", "|:", ":|", "|:", ":|3")]
    [InlineData("1 3", "", "[1 ] :|", "[2 ]")]
    [InlineData("1-3 1-2", "|:", ":| fine=yes", "dacapo=yes")]
    public void Without_repeats_each_section_is_played_once_with_its_last_ending(string expected, params string[] bars) =>
        Assert.Equal(expected, Draw.Order(Draw.Read(Draw.Bars(bars)), withRepeats: false));

    [Theory]
    [InlineData("MX060", "|:", "")]
    [InlineData("MX062", "", "[1 ] :|", "[2 ] :|")]
    [InlineData("MX065", "tocoda=c", "dacapo=yes")]
    [InlineData("MX066", "fine=yes", "dalsegno=s")]
    [InlineData("MX068", "", "dacapo=yes")]
    [InlineData("MX069", "", "D.C.")]
    [InlineData("MX071", "tocoda=c", "dacapo=yes", "", "coda=c")]
    [InlineData("MX072", "", "fine=yes", "")]
    public void What_cannot_be_unfolded_is_a_warning_that_names_the_bar(string code, params string[] bars)
    {
        var warning = Assert.Single(PlayOrder.Unfold(Draw.Read(Draw.Bars(bars))).Warnings, warning => warning.Code == code);
        Assert.StartsWith("bar", warning.Found);
        Assert.Equal(Severity.Warning, warning.Severity);
    }

    // The words say D.S., the mark for playing says D.C.: the mark is taken, its end from the words.
    [Fact]
    public void A_mark_for_playing_wins_over_words_that_say_otherwise()
    {
        const string Both = "<direction><direction-type><words>D.S. al Fine</words></direction-type><sound dacapo=\"yes\"/></direction>";
        var score = Draw.Read(Draw.Partwise(Draw.Bar(""), Draw.Bar("segno=s"), Draw.Bar("fine=yes"), Draw.Whole + Both));
        Assert.Equal("1-4 1-3", Draw.Order(score));
        Assert.Single(score.Warnings, warning => warning.Code == "MX043");
    }

    // after-jump="yes" (MusicXML 4.0, repeat): this repeat is taken again after the jump back.
    [Fact]
    public void A_repeat_that_says_so_is_taken_again_after_a_jump()
    {
        var again = Draw.Whole + Draw.Right("<repeat direction=\"backward\" after-jump=\"yes\"/>");
        Assert.Equal("1-2 1-4 1-2 1-3", Draw.Order(Draw.Read(Draw.Partwise(Draw.Whole, again, Draw.Bar("fine=yes"), Draw.Bar("dacapo=yes")))));
    }

    // forward-repeat in a sound (MusicXML 4.0): an unprinted forward sign, as at a trio.
    [Fact]
    public void A_forward_repeat_may_stand_in_a_sound_alone() =>
        Assert.Equal("1-3 2-4", Draw.Order(Draw.Read(Draw.Bars("", "forward-repeat=yes", ":|", ""))));

    [Theory]
    [InlineData("1", 1)]
    [InlineData("1, 2", 1, 2)]
    [InlineData("3, 5, 7", 3, 5, 7)]
    [InlineData("1-3", 1, 2, 3)]
    [InlineData("1.–2.", 1, 2)]
    [InlineData("2.", 2)]
    [InlineData("1,2,4-5", 1, 2, 4, 5)]
    [InlineData("")]
    [InlineData("0")]
    public void Brackets_are_lists_of_passes(string text, params int[] passes) => Assert.Equal(passes, PartReader.EndingNumbers(text));

    // Numbers 1 2 3 | 1 2 3: the D.C. of the second movement goes back to its own start.
    [Fact]
    public void Da_capo_in_a_later_movement_goes_back_to_the_start_of_that_movement()
    {
        var score = Draw.Read(Draw.Score(("1", Draw.Bar("")), ("2", Draw.Bar("")), ("3", Draw.Bar("")), ("1", Draw.Bar("")), ("2", Draw.Bar("fine=yes")), ("3", Draw.Bar("dacapo=yes"))));
        var order = PlayOrder.Unfold(score);
        Assert.Equal("1-6 4-5", Draw.Order(order));
        Assert.Contains(order.Warnings, warning => warning.Code == "MX067");
    }

    // A trio numbered from 1 again: only the minuet has a Fine, so the D.C. means the minuet.
    [Fact]
    public void Da_capo_after_a_trio_with_its_own_numbers_goes_back_to_where_the_fine_is()
    {
        var score = Draw.Read(Draw.Score(("1", Draw.Bar("")), ("2", Draw.Bar("fine=yes")), ("1", Draw.Bar("")), ("2", Draw.Bar("dacapo=yes"))));
        Assert.Equal("1-4 1-2", Draw.Order(score));
    }

    // time-only="2": the jump is obeyed on the second pass of its bar.
    [Fact]
    public void Time_only_says_on_which_pass_a_jump_is_obeyed()
    {
        var dalSegno = Draw.Whole + "<sound dalsegno=\"s\" time-only=\"2\"/>";
        var score = Draw.Read(Draw.Partwise(Draw.Bar("segno=s |:"), dalSegno, Draw.Bar(":|"), Draw.Bar("fine=yes")));
        Assert.Equal("1-3 1-2 1-4", Draw.Order(score));
    }

    [Fact]
    public void Nested_repeats_beyond_all_reason_are_played_straight_with_a_warning()
    {
        var bars = Enumerable.Repeat("|:", 30).Concat(Enumerable.Repeat(":|", 30)).ToArray();
        var order = PlayOrder.Unfold(Draw.Read(Draw.Bars(bars)));
        Assert.Equal("1-60", Draw.Order(order));
        Assert.Contains(order.Warnings, warning => warning.Code == "MX070");
    }
}
