using System.Xml.Linq;
using Mixscore.Score;
using Mixscore.Score.Tests;

namespace Mixscore.Outside.Tests;

/// <summary>
/// Verovio 6.3 plays our own scores and generated ones: the same bars in the same order, at the same times within 1 ms.
/// Kinds of score that are not generated here, since the reference is wrong or reads otherwise: repeats inside repeats (it
/// goes back to the nearest forward sign only), tempo marks inside bars (it moves them to the barline), bars without a
/// tempo mark of their own behind a jump (it carries the tempo on; we take what is written there, with a warning),
/// multiple rests (it merges the bars), repeats that end in a split bar (it loses them).
/// </summary>
public sealed class TimemapTests
{
    private static readonly RandomShape Shape = new(MarksInsideBars: false, MarksWhereJumpsLead: true, NestedRepeats: false);

    /// <summary>A leap forward, to the coda or past an ending, over a time signature or to one, even one that only says the meter again: the bar before the leap comes out with a wrong length.</summary>
    private static readonly int[] LeapsOverAMeter = [14, 20, 28, 44, 84, 90, 98, 140, 182, 190];

    /// <summary>Bars without meter that a part rests through: it divides by zero and ends.</summary>
    private static readonly string[] RestsWithoutMeter = ["winter-signals.musicxml"];

    [Fact]
    public void Our_own_scores_are_played_alike()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var files = Directory.GetFiles(Path.Combine(Timemap.Repository(), "scores"), "*.musicxml")
            .Where(file => !RestsWithoutMeter.Contains(Path.GetFileName(file))).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(files);
        foreach (var (file, theirs) in files.Zip(Timemap.Of(files))) Assert.Null(Difference(ScoreFile.Read(file), theirs));
    }

    [Fact]
    public void Generated_scores_are_played_alike()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var folder = Directory.CreateTempSubdirectory("mixscore-scores-");
        try
        {
            var files = Enumerable.Range(0, 200).Except(LeapsOverAMeter).Select(seed => Path.Combine(folder.FullName, $"{seed}.musicxml")).ToList();
            foreach (var file in files) File.WriteAllText(file, RandomScores.Of(int.Parse(Path.GetFileNameWithoutExtension(file)), Shape));
            var differences = files.Zip(Timemap.Of(files), (file, theirs) => Difference(ScoreFile.Read(file), theirs) is { } difference ? $"{Path.GetFileName(file)}: {difference}" : null);
            Assert.Empty(differences.OfType<string>());
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void What_is_left_out_is_what_the_reason_says() => Assert.All(LeapsOverAMeter, seed =>
    {
        var xml = RandomScores.Of(seed, Shape);
        var hasTime = XDocument.Parse(xml).Root!.Element("part")!.Elements("measure").Select(measure => measure.Descendants("time").Any()).ToList();
        var steps = PlayOrder.Unfold(Draw.Read(xml)).Steps;
        Assert.Contains(steps.Zip(steps.Skip(1)), pair => pair.Second.Bar > pair.First.Bar + 1 && hasTime.GetRange(pair.First.Bar, pair.Second.Bar - pair.First.Bar).Contains(true));
    });

    /// <summary>Where two readings first part; <c>null</c> where they do not.</summary>
    private static string? Difference(WrittenScore score, Timemap theirs)
    {
        var timeline = TimelineBuilder.Build(score).Timeline;
        var (ours, others) = (timeline.Bars.Select(bar => (bar.Label, bar.Written)), theirs.Bars.Select(bar => (bar.Bar, bar.Written ?? 0)));
        if (!ours.SequenceEqual(others)) return $"bars as played are {string.Join(' ', ours)}, not {string.Join(' ', others)}";
        foreach (var (bar, other) in timeline.Bars.Zip(theirs.Bars))
        {
            if (Math.Abs(bar.Start.ToDouble() - other.Quarters) > 1e-6) return $"bar {bar} begins at {bar.Start} quarters, not {other.Quarters}";
            var milliseconds = timeline.Tempo.SecondsAt(bar.Start).Value * 1000;
            if (Math.Abs(milliseconds - other.Milliseconds) > 1) return $"bar {bar} begins at {milliseconds:0.###} ms, not {other.Milliseconds}";
        }
        var end = timeline.Duration.Value * 1000;
        return Math.Abs(end - theirs.Milliseconds) > 1 ? $"it ends at {end:0.###} ms, not {theirs.Milliseconds}" : null;
    }
}
