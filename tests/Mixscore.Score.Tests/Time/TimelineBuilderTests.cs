namespace Mixscore.Score.Tests;

// Derived, unless a line says otherwise.
public sealed class TimelineBuilderTests
{
    private static readonly WrittenScore FourBars = Draw.Read(Draw.Partwise(
        Draw.Sound("tempo=\"60\"") + Draw.Whole, Draw.Whole, Draw.Sound("tempo=\"120\"") + Draw.Whole, Draw.Whole));

    private static BuiltTimeline Build(params TempoOverride[] tempo) => TimelineBuilder.Build(FourBars, new TimelineOptions { Tempo = tempo });

    //  |1  60      |2          |3  120     |4          |
    [Fact]
    public void A_written_tempo_holds_until_the_next() => Assert.Equal(8 + 4, Build().Timeline.Duration.Value, 1e-9);

    //  |1  60      |2  30      |3  120     |4          |     the plan's tempo holds until the score's next mark
    [Fact]
    public void A_tempo_of_the_plan_holds_until_the_next_mark_of_the_score() =>
        Assert.Equal(4 + 8 + 4, Build(new TempoOverride(Position.Parse("2"), StartTempo: 30)).Timeline.Duration.Value, 1e-9);

    //  |1  60      |2  60 > 30 |30         |30         |     the change ends inside bar 3's mark's range
    //  a straight change over q quarters from a to b lasts 60·q/(b−a)·ln(b/a) seconds (the integral of 60/v)
    [Fact]
    public void A_change_is_straight_over_quarters_and_its_end_goes_on_until_the_next_mark()
    {
        var built = Build(new TempoOverride(Position.Parse("2"), Position.Parse("3:3"), 60, 30));
        Assert.Equal(4 + 60.0 * 6 / -30 * Math.Log(0.5) + 6 * 2, built.Timeline.Duration.Value, 1e-9);
    }

    //  |1  60      |2        40|120        |     at bar 3 the score's own mark follows
    [Fact]
    public void A_mark_of_the_score_where_a_change_ends_takes_over() =>
        Assert.Equal(4 + 60.0 * 4 / -20 * Math.Log(40.0 / 60) + 4, Build(new TempoOverride(Position.Parse("2"), Position.Parse("3"), 60, 40)).Timeline.Duration.Value, 1e-9);

    //  |1  60      |2 . . .⏜3.5|3  120
    [Fact]
    public void A_hold_lasts_as_long_as_it_says_in_all()
    {
        var tempo = Build(new TempoOverride(Position.Parse("2:4"), Hold: new Seconds(3.5))).Timeline.Tempo;
        Assert.Equal(3.5, (tempo.SecondsAt(8.0) - tempo.SecondsAt(7.0)).Value, 1e-9);
        Assert.Equal(1, (tempo.SecondsAt(7.0) - tempo.SecondsAt(6.0)).Value, 1e-9);
        Assert.Equal(0.5, (tempo.SecondsAt(9.0) - tempo.SecondsAt(8.0)).Value, 1e-9);
    }

    [Theory]
    [InlineData("9", null, 60.0, null, null)]
    [InlineData("end", null, 60.0, null, null)]
    [InlineData("2", "1", 60.0, 40.0, null)]
    [InlineData("2", null, 0.0, null, null)]
    [InlineData("2", null, null, 40.0, null)]
    [InlineData("2", null, null, null, -1.0)]
    [InlineData("2", null, null, null, null)]
    public void An_override_that_cannot_be_comes_back_as_a_problem(string from, string? to, double? start, double? end, double? hold)
    {
        var good = new TempoOverride(Position.Parse("1"), StartTempo: 90);
        var bad = new TempoOverride(Position.Parse(from), to is null ? null : Position.Parse(to), start, end, hold is { } held ? new Seconds(held) : null);
        var problem = Assert.Single(Build(good, bad).Problems);
        Assert.Equal(1, problem.Override);
    }

    [Fact]
    public void Overlapping_overrides_are_a_problem_of_the_later_one()
    {
        var first = new TempoOverride(Position.Parse("1"), Position.Parse("3"), 60, 40);
        Assert.Equal(1, Assert.Single(Build(first, new TempoOverride(Position.Parse("2"), StartTempo: 50)).Problems).Override);
        Assert.Empty(Build(first, new TempoOverride(Position.Parse("3"), StartTempo: 50)).Problems);
    }

    //  |1  60      |2  40     :|     the second time bar 1 has its own mark again; nothing to warn of
    [Fact]
    public void After_a_jump_the_tempo_is_the_one_written_there()
    {
        var marked = Draw.Read(Draw.Partwise(Draw.Sound("tempo=\"60\"") + Draw.Whole, Draw.Sound("tempo=\"40\"") + Draw.Bar(":|")));
        Assert.Equal(2 * (4 + 6), TimelineBuilder.Build(marked).Timeline.Duration.Value, 1e-9);
        Assert.Empty(TimelineBuilder.Build(marked).Warnings);

        // |1  60  |2 |: |3  40  :|     bar 2 the second time: 60 as written there, with a warning
        var unmarked = Draw.Read(Draw.Partwise(Draw.Sound("tempo=\"60\"") + Draw.Whole, Draw.Bar("|:"), Draw.Sound("tempo=\"40\"") + Draw.Bar(":|")));
        var built = TimelineBuilder.Build(unmarked);
        Assert.Equal(4 + 2 * (4 + 6), built.Timeline.Duration.Value, 1e-9);
        Assert.Single(built.Warnings, warning => warning.Code == "MX080");
    }
}
