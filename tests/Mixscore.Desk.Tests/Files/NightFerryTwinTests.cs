using Mixscore.Score;

namespace Mixscore.Desk.Tests.Files;

/// <summary><c>scores/night-ferry.mid</c> is made from the score; written anew by running this test with MIXSCORE_APPROVE=1.</summary>
public class NightFerryTwinTests
{
    [Fact]
    public void The_twin_beside_the_score_is_the_one_that_we_write()
    {
        var folder = Path.Combine(Root(), "scores");
        var score = ScoreFile.Read(Path.Combine(folder, "night-ferry.musicxml"));
        var twin = MidiTwin.Of(score, TimelineBuilder.Build(score).Timeline);
        var path = Path.Combine(folder, "night-ferry.mid");
        if (Environment.GetEnvironmentVariable("MIXSCORE_APPROVE") == "1") File.WriteAllBytes(path, twin);
        Assert.Equal(twin, File.ReadAllBytes(path));
    }

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Mixscore.sln"))) return folder.FullName;
        throw new DirectoryNotFoundException("no Mixscore.sln above the tests");
    }
}
