using Mixscore.Project;

namespace Mixscore.Tests.Project;

public sealed class ReadAheadTests
{
    // What fails on the thread that reads ahead is told nowhere: here it is.
    [Fact]
    public void The_demo_that_is_read_ahead_is_a_plan_on_its_score()
    {
        var onScore = ReadAhead.PlanAndScore();
        Assert.Equal(9, onScore.Sources.Count);
        Assert.NotEmpty(onScore.Timeline.Bars);
    }
}
