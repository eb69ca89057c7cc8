namespace Mixscore.Planning.Tests.Plan;

public sealed class CallSectionTests
{
    [Theory]
    [InlineData("every bar", 1, true)]
    [InlineData("every 4 bars", 4, true)]
    [InlineData("letters", 0, true)]
    [InlineData("off", 0, false)]
    public void A_choice_is_read_for_all_and_for_a_site(string text, int every, bool letters)
    {
        var plan = Plans.Head.Replace("link: { delay: 38 ms }", $"link: {{ delay: 38 ms }}, call: {text}", StringComparison.Ordinal) + $"call: {{ bars: {text}, language: de }}\n";
        var read = Plans.Read(plan);
        Assert.Equal(new CallChoice(every, letters), read.Call.Choice);
        Assert.Equal(new CallChoice(every, letters), read.Sites[0].Call);
        Assert.Equal("de", read.Call.Language);
        Assert.True(PlanSchemaTests.IsValid(plan));
    }

    [Theory]
    [InlineData("{ bars: sometimes }", "MX114 10,15")]
    [InlineData("{ bars: every 0 bars }", "MX111 10,15")]
    [InlineData("{ language: \"--version\" }", "MX109 10,19")]
    [InlineData("{ voice: hers }", "MX105 10,9")]
    public void What_is_no_call_is_told_with_its_place(string text, string fault)
    {
        Assert.Equal([fault], Plans.Faults(Plans.Head + $"call: {text}\n"));
        Assert.False(PlanSchemaTests.IsValid(Plans.Head + $"call: {text}\n"));
    }
}
