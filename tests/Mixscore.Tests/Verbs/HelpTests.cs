namespace Mixscore.Tests.Verbs;

public class HelpTests
{
    private static readonly string[] InTheOrderOfTheWork = ["demo", "start", "read", "draft", "measure", "fit", "check", "write", "desk", "practice-desk", "rehearse", "perform", "log", "fold", "compare", "loudness"];

    [Fact]
    public async Task Without_arguments_the_verbs_are_shown_in_the_order_of_the_work()
    {
        var ended = await SmallProject.Run();
        Assert.Equal(0, ended.Code);
        var places = InTheOrderOfTheWork.Select(verb => ended.Output.IndexOf($"\n    {verb} ", StringComparison.Ordinal)).ToArray();
        Assert.DoesNotContain(-1, places);
        Assert.Equal(places.Order(), places);
    }

    public static TheoryData<string> Verbs => [.. InTheOrderOfTheWork];

    [Theory, MemberData(nameof(Verbs))]
    public async Task Every_verb_has_help_with_an_example(string verb)
    {
        var ended = await SmallProject.Run(verb, "--help");
        Assert.Equal(0, ended.Code);
        Assert.Contains("EXAMPLES:", ended.Output);
        Assert.Contains($"mixscore {verb}", ended.Output);
    }

    [Theory]
    [InlineData("mix")]
    [InlineData("check")]
    [InlineData("check", "a.mix.yaml", "--nonsense")]
    [InlineData("start", "somewhere")]
    public async Task Wrong_usage_ends_with_2_and_a_word_of_what_to_do(params string[] arguments)
    {
        var ended = await SmallProject.Run(arguments);
        Assert.Equal(2, ended.Code);
        Assert.Contains("--help", ended.Error);
        Assert.DoesNotContain("   at ", ended.Error + ended.Output);
    }

    [Fact]
    public async Task Nothing_is_coloured_where_nobody_looks()
    {
        var ended = await SmallProject.Run("--help");
        Assert.DoesNotContain('\u001b', ended.Output + ended.Error);
    }
}
