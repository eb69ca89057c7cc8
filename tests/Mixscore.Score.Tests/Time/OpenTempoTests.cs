namespace Mixscore.Score.Tests;

// What the score leaves open, and the entries that a plan would close it with. The lengths are our own: UsualTempo.
public sealed class OpenTempoTests
{
    private const string Half = "<note><rest/><duration>8</duration></note>";

    private static BuiltTimeline Build(TempoOverride[] plan, params string[] bars) =>
        TimelineBuilder.Build(Draw.Read(Draw.Partwise(bars)), new TimelineOptions { Tempo = plan });

    private static IEnumerable<string> Entries(BuiltTimeline built) => built.Open.Select(open => $"{open.Words} | {open.Entry}");

    //  |1  100     |2     rit. |3          |4  a tempo |
    [Fact]
    public void Words_reach_to_the_next_words_or_marks_and_come_back()
    {
        var built = Build([], Draw.Sound("tempo=\"100\"") + Draw.Whole, Half + Draw.Words("rit.") + Half, Draw.Whole, Draw.Words("a tempo") + Draw.Whole);
        Assert.Equal(["rit. | 2:3: 100 > 80 by 4", "a tempo | 4: 100"], Entries(built));
        Assert.Equal(16 * 0.6, built.Timeline.Duration.Value, 1e-9);   // nothing changes by itself
        Assert.Equal(2, built.Warnings.Count(warning => warning.Code == "MX082"));
    }

    [Fact]
    public void Words_without_a_goal_reach_four_bars_or_to_the_end()
    {
        string[] rest = [Draw.Whole, Draw.Whole, Draw.Whole, Draw.Whole];
        Assert.Equal(["accel. | 1: 120 > 150 by 5"], Entries(Build([], [Draw.Words("accel.") + Draw.Whole, .. rest])));
        Assert.Equal(["rall. | 5: 120 > 96 by end"], Entries(Build([], [.. rest, Draw.Words("rall.") + Draw.Whole])));
    }

    [Fact]
    public void Tempo_primo_leads_to_the_first_tempo_of_the_piece() =>
        Assert.Equal(["Tempo I | 3: 100"], Entries(Build([], Draw.Sound("tempo=\"100\"") + Draw.Whole, Draw.Sound("tempo=\"60\"") + Draw.Whole, Draw.Words("Tempo I") + Draw.Whole)));

    //  a beat of 60 a minute lasts 1 s; held, twice that in all
    [Fact]
    public void A_fermata_is_held_twice_its_beat() =>
        Assert.Equal(["fermata | 1:3: hold 2 s"], Entries(Build([], Draw.Sound("tempo=\"60\"") + Half + "<note><rest/><duration>8</duration><notations><fermata/></notations></note>")));

    // A fermata on the barline is one on the beat before it; only a hold closes it, and only a tempo or a change there closes words.
    [Fact]
    public void What_the_plan_says_is_open_no_more()
    {
        string[] bars = [Draw.Whole, Half + Draw.Words("rit.") + Half + Draw.Right("<fermata/>"), Draw.Whole];
        var steady = new TempoOverride(Position.Parse("1"), StartTempo: 90);
        var change = new TempoOverride(Position.Parse("2:3"), Position.Parse("3"), 90, 70);
        var hold = new TempoOverride(Position.Parse("2:4"), Hold: new Seconds(2));
        Assert.Equal(["rit. | 2:3: 90 > 72 by end", "fermata | 2:4: hold 1.3 s"], Entries(Build([steady], bars)));
        Assert.Equal(["fermata"], Build([steady, change], bars).Open.Select(open => open.Words));
        Assert.Empty(Build([steady, change, hold], bars).Open);
    }

    [Fact]
    public void Words_beside_a_mark_are_closed_by_it() =>
        Assert.Empty(Build([], Draw.Whole, Draw.Words("a tempo") + Draw.Sound("tempo=\"90\"") + Draw.Whole).Open);
}
