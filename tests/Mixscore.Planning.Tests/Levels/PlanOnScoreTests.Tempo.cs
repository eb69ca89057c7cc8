using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

/// <summary>Twenty bars of four quarters at 60 quarters a minute; tempo entries stand from line 11 on.</summary>
public sealed class PlanOnScoreTempoTests
{
    // Derived: 80 quarters at 60 last 80 s; from bar 11 on, half of them at 120 last 20 s; a beat held 3.5 s is 2.5 s longer.
    [Theory]
    [InlineData("11: 120", 60)]
    [InlineData("10:4: hold 3.5 s", 82.5)]
    [InlineData("11..16: 120", 60)]
    public void Tempi_of_the_plan_are_on_the_timeline(string entry, double seconds) =>
        Assert.Equal(seconds, Resolve(entry).Timeline.Duration.Value, 9);

    // Derived: a tempo straight over quarters lasts 60/b · ln(v1/v0), here with b = (60 − 120)/40.
    [Fact]
    public void A_change_is_straight_over_quarters() =>
        Assert.Equal(40 + 40 * Math.Log(2), Resolve("11: 120 > 60 by end").Timeline.Duration.Value, 9);

    [Theory]
    [InlineData("X: 72", "MX130 11,3")]
    [InlineData("21: 72", "MX130 11,3")]
    [InlineData("3: 72 > 60 by X", "MX130 11,3")]
    [InlineData("3:9: hold 3 s", "MX130 11,3")]
    [InlineData("end: 72", "MX131 11,3")]
    [InlineData("9: 72 > 60 by 3", "MX131 11,3")]
    public void Tempi_out_of_place_are_named(string entry, string expected) => Assert.Equal([expected], Faults(entry));

    [Fact]
    public void Overlapping_tempi_are_named() => Assert.Equal(["MX134 12,3"], Faults("3..9: 72 > 60", "5: 80"));

    private static PlanOnScore Resolve(params string[] entries) =>
        PlanOnScore.Resolve(Plans.Read(Plans.Head + "tempo:\n" + string.Concat(entries.Select(entry => $"  {entry}\n"))),
            Scores.WrittenTwenty);

    private static string[] Faults(params string[] entries) =>
        [.. Assert.Throws<InputException>(() => Resolve(entries))
            .Faults.Select(fault => $"{fault.Code} {fault.Place.Line},{fault.Place.Column}")];
}
