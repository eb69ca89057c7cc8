using Mixscore.Planning.Tests.Levels;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Draft;

public sealed class FirstMarksPlanTests
{
    [Fact]
    public void Drafts_fill_only_sources_with_a_part_and_without_marks()
    {
        var text = Plans.WithMarks("1: -6 # mine");
        var plan = PlanOnScore.Resolve(Plans.Read(text), Scores.WrittenTwenty);
        var draft = FirstMarks.Of(plan);
        Assert.Equal(["north.voice", "north.horn", "north.engine"], draft.Select(source => source.Source));
        Assert.Equal([false, true, false], draft.Select(source => source.LeftOut is null));

        var editor = new PlanEditor(text, "t.mix.yaml");
        FirstMarks.Write(draft, editor);
        Assert.Equal(text + "  north.horn:\n    1: off  # drafted\n    5: p  # drafted\n    9..11: p > f  # drafted\n    13: off  # drafted\n", editor.Text);

        // A second draft finds nothing left to fill.
        var again = FirstMarks.Of(PlanOnScore.Resolve(Plans.Read(editor.Text), Scores.WrittenTwenty));
        Assert.All(again, source => Assert.Empty(source.Marks));
    }

    // Quartet of F. Schubert, D 703, from the shared scores: drafts of a real score lie on it without a fault, on every pass.
    [Fact]
    public void A_real_score_is_drafted_and_read_back()
    {
        var path = SharedScores.Find("schubert_d703_quartettsatz.mxl");
        Assert.SkipWhen(path is null, "the shared scores are not here");
        var score = ScoreFile.Read(path!);
        var sources = score.Parts.Select((part, i) => new NewSource($"site{i}.strings", Role.Instrument, $"{i}.wav", i + 1, part.Id))
            .ToList();
        var text = PlanTemplate.Write("T", "s.mxl", [.. sources.Select((_, i) => new NewSite($"site{i}", Seconds.Zero))], sources);
        var editor = new PlanEditor(text, "t.mix.yaml");
        FirstMarks.Write(FirstMarks.Of(PlanOnScore.Resolve(Plans.Read(text), score)), editor);

        var plan = PlanOnScore.Resolve(Plans.Read(editor.Text), score);
        Assert.All(plan.Sources, source => Assert.True(source.Levels.Segments.Count > 20, source.Source.Name));
        Assert.All(plan.Sources, source => Assert.NotNull(source.Levels.Segments[0].Mark));
        Assert.Equal(text.Split('\n'), editor.Text.Split('\n')
            .Where(line => !line.EndsWith("# drafted", StringComparison.Ordinal) && !line.StartsWith("  site", StringComparison.Ordinal)
            || line.Contains('{', StringComparison.Ordinal)));
    }
}
