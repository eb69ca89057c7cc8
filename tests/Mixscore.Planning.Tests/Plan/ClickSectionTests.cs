namespace Mixscore.Planning.Tests.Plan;

public sealed class ClickSectionTests
{
    [Theory]
    [InlineData("{}", 2, null, 1)]
    [InlineData("{ count-in: 1 bar }", 1, null, 1)]
    [InlineData("{ count-in: 0 }", 0, null, 1)]
    [InlineData("{ count-in: 2 bars at 84.5, subdivide: 3 }", 2, 84.5, 3)]
    public void A_click_is_read_and_the_schema_takes_it(string text, int bars, double? tempo, int parts)
    {
        var plan = Plans.Head + $"click: {text}\n";
        Assert.Equal(new ClickSettings { CountIn = bars, CountInTempo = tempo, Subdivide = parts }, Plans.Read(plan).Click);
        Assert.True(PlanSchemaTests.IsValid(plan));
    }

    [Theory]
    [InlineData("{ count-in: some bars }", "MX110 10,20")]
    [InlineData("{ count-in: 9 bars }", "MX111 10,20")]
    [InlineData("{ count-in: 2 bars at none }", "MX110 10,20")]
    [InlineData("{ subdivide: 0 }", "MX111 10,21")]
    [InlineData("{ countin: 2 }", "MX105 10,10")]
    public void What_is_no_click_is_told_with_its_place(string text, string fault)
    {
        Assert.Equal([fault], Plans.Faults(Plans.Head + $"click: {text}\n"));
        Assert.False(PlanSchemaTests.IsValid(Plans.Head + $"click: {text}\n"));
    }
}
