using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

/// <summary>How the piece is played: with or without repeats, and to whose tempo. What is added begins on line 10.</summary>
public sealed class PlanOnScorePlayedTests
{
    // |: 1-20 :|, at 60 quarters a minute.
    private static readonly WrittenScore Repeated = Scores.WrittenTwenty with
    {
        Bars = [.. Scores.WrittenTwenty.Bars.Select(bar => bar.Number == 20 ? bar with { Plays = 2 } : bar)],
    };

    // Two bars of count-in at 120, then 20 bars at 30 quarters a minute.
    private static readonly TempoFile Click = TempoFile.Of(Scores.WrittenTwenty with
    {
        File = "click.mid",
        Bars = [.. Enumerable.Range(1, 22).Select(i => new WrittenBar { Number = i, Label = $"{i}", Meter = Meter.Common, Length = new Quarters(4) })],
        Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), 120), new WrittenTempo(new WrittenPlace(3, Quarters.Zero), 30)],
        Parts = [],
    });

    [Theory]
    [InlineData("", 160)]
    [InlineData("repeats: yes\n", 160)]
    [InlineData("repeats: no\n", 80)]
    [InlineData("repeats: false\n", 80)]
    public void A_plan_says_whether_repeats_are_played(string added, double seconds) =>
        Assert.Equal(seconds, PlanOnScore.Resolve(Plans.Read(Plans.Head + added), Repeated).Timeline.Duration.Value, 9);

    // Derived: 8 quarters at 120 last 4 s, 72 at 30 last 144 s; from bar 3 of the file on 80 quarters at 30 last 160 s.
    [Theory]
    [InlineData("tempo-from: click.mid\n", 148, "MX083")]
    [InlineData("tempo-from: { file: click.mid, begin: 3 }\n", 160)]
    [InlineData("tempo-from: { file: click.mid, begin: 3 }\ntempo:\n  11: 60\n", 120)]
    public void A_plan_says_whose_tempo_is_heard(string added, double seconds, params string[] warnings)
    {
        var plan = PlanOnScore.Resolve(Plans.Read(Plans.Head + added), Scores.WrittenTwenty, Click);
        Assert.Equal(seconds, plan.Timeline.Duration.Value, 9);
        Assert.Equal(warnings, plan.Warnings.Select(warning => warning.Code));
    }

    [Theory]
    [InlineData("begin: 23", "MX130 10,39")]
    [InlineData("begin: end", "MX130 10,39")]
    public void A_beginning_that_the_tempo_file_has_not_is_named(string begin, string expected)
    {
        var plan = Plans.Read(Plans.Head + $"tempo-from: {{ file: click.mid, {begin} }}\n");
        var fault = Assert.Single(Assert.Throws<InputException>(() => PlanOnScore.Resolve(plan, Scores.WrittenTwenty, Click)).Faults);
        Assert.Equal(expected, $"{fault.Code} {fault.Place.Line},{fault.Place.Column}");
    }

    [Fact]
    public void A_plan_that_takes_its_tempo_from_a_file_cannot_do_without_it() =>
        Assert.Throws<ArgumentException>(() => PlanOnScore.Resolve(Plans.Read(Plans.Head + "tempo-from: click.mid\n"), Scores.WrittenTwenty));

    // Two staves: the source plays the lower one.
    [Fact]
    public void A_staff_that_the_part_has_not_is_named()
    {
        var score = Scores.WrittenTwenty with { Parts = [Scores.WrittenTwenty.Parts[0] with { Staves = 2 }] };
        Assert.Equal(2, Staff(2).Staff);
        var fault = Assert.Single(Assert.Throws<InputException>(() => Staff(3)).Faults);
        Assert.Equal("MX133 7,75", $"{fault.Code} {fault.Place.Line},{fault.Place.Column}");

        Source Staff(int staff) => PlanOnScore.Resolve(Plans.Read(Plans.Head.Replace("part: P1", $"part: P1, staff: {staff}", StringComparison.Ordinal)), score)["north.horn"].Source;
    }
}
