using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

public sealed class PlanOnScoreOpenTests
{
    private const string OneBar = """
        <score-partwise version="4.0">
          <part-list><score-part id="P1"><part-name>Horn</part-name></score-part></part-list>
          <part id="P1"><measure number="1">
            <attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
            <note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>
          </measure></part>
        </score-partwise>
        """;

    [Fact]
    public void A_plan_is_read_with_the_score_beside_it()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            File.WriteAllText(Path.Combine(folder.FullName, "s.musicxml"), OneBar);
            var path = Path.Combine(folder.FullName, "t.mix.yaml");
            File.WriteAllText(path, Plans.WithMarks("1: -6", "1:3: off"));
            var plan = PlanOnScore.Open(path);
            Assert.Equal(new Quarters(4), plan.Timeline.End);
            Assert.Equal(2, plan["north.voice"].Levels.Segments.Count);
            Assert.Equal("Horn", plan["north.horn"].Part?.Name);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void A_score_that_is_not_there_is_not_a_fault_of_the_plan()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var path = Path.Combine(folder.FullName, "t.mix.yaml");
            File.WriteAllText(path, Plans.Head);
            Assert.Throws<FileNotFoundException>(() => PlanOnScore.Open(path));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
