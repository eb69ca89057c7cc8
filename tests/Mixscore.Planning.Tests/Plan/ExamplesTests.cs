using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

/// <summary>The plan that ships with the project lies on its score.</summary>
public sealed class ExamplesTests
{
    [Fact]
    public void Night_Ferry_is_read_and_lies_on_its_score()
    {
        var path = Path.Combine(SharedScores.Root, "examples", "night-ferry.mix.yaml");
        var plan = PlanReader.Read(path);
        Assert.True(PlanSchemaTests.IsValid(File.ReadAllText(path)));
        var laid = PlanOnScore.Resolve(plan, ScoreFile.Read(Path.Combine(plan.Folder, plan.Score)));
        Assert.Equal(9, laid.Sources.Count);
        Assert.All(laid.Sources, source => Assert.False(source.Levels.IsSilent));
        Assert.All(laid.Sources, source => Assert.NotNull(source.Part));
        Assert.DoesNotContain(laid.Warnings, warning => warning.Place.File == path);
    }
}
