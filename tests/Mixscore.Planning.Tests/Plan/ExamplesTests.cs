using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

/// <summary>The plans that ship with the project lie on their scores.</summary>
public sealed class ExamplesTests
{
    [Theory]
    [InlineData("night-ferry", 9)]
    [InlineData("winter-signals", 24)]
    public void It_is_read_and_lies_on_its_score(string name, int sources)
    {
        var path = Path.Combine(SharedScores.Root, "examples", name + ".mix.yaml");
        var plan = PlanReader.Read(path);
        Assert.True(PlanSchemaTests.IsValid(File.ReadAllText(path)));
        var laid = PlanOnScore.Resolve(plan, ScoreFile.Read(Path.Combine(plan.Folder, plan.Score)));
        Assert.Equal(sources, laid.Sources.Count);
        Assert.All(laid.Sources, source => Assert.False(source.Levels.IsSilent));
        Assert.All(laid.Sources, source => Assert.NotNull(source.Part));
        Assert.DoesNotContain(laid.Warnings, warning => warning.Place.File == path);
    }
}
