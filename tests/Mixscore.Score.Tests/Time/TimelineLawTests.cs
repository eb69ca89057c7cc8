using System.Xml.Linq;
using CsCheck;

namespace Mixscore.Score.Tests;

// Laws over random scores (meters, repeats, endings, jumps) with constant and changing tempi and holds. Derived.
public sealed class TimelineLawTests
{
    private const string Seed = "0000000000001";

    private static readonly Gen<(Timeline Timeline, Quarters Place)> Places =
        from built in RandomTimelines.Built
        from place in RandomTimelines.PlaceIn(built.Timeline)
        select (built.Timeline, place);

    [Fact]
    public void Position_to_quarters_to_seconds_to_position_is_the_identity() => Places.Sample(drawn =>
    {
        var (timeline, place) = drawn;
        var position = timeline.PositionAt(place);
        Assert.True(timeline.TryResolve(position, out var resolved, out var problem), problem);
        Assert.Equal(place, resolved);
        var seconds = timeline.Tempo.SecondsAt(resolved);
        Assert.Equal(place, timeline.PlaceAt(seconds));
        Assert.Equal(position, timeline.PositionAt(seconds));
        Assert.Equal(position, Position.Parse(position.ToString()));
    }, seed: Seed, iter: 2000);

    [Fact]
    public void Bars_follow_without_gap_and_their_sum_is_the_end() => RandomTimelines.Built.Sample(built =>
    {
        var timeline = built.Timeline;
        var at = Quarters.Zero;
        foreach (var bar in timeline.Bars)
        {
            Assert.Equal(at, bar.Start);
            Assert.True(bar.Length > Quarters.Zero);
            Assert.Equal(bar.Start, bar.Beats[0]);
            Assert.True(bar.Beats[^1] < bar.End);
            at = bar.End;
        }
        Assert.Equal(at, timeline.End);
        Assert.Equal(timeline.End, timeline.Bars.Aggregate(Quarters.Zero, (sum, bar) => sum + bar.Length));
        Assert.Equal(built.Order.Steps.Select(step => step.Bar), timeline.Bars.Select(bar => bar.Written));
    }, seed: Seed, iter: 300);

    [Fact]
    public void Time_goes_forward_from_beat_to_beat() => RandomTimelines.Built.Sample(built =>
    {
        var seconds = built.Timeline.BeatGrid.Select(beat => built.Timeline.Tempo.SecondsAt(beat).Value).ToList();
        Assert.Equal(0, seconds[0]);
        Assert.Equal(built.Timeline.Duration.Value, seconds[^1]);
        for (var i = 1; i < seconds.Count; i++) Assert.True(seconds[i] > seconds[i - 1]);
    }, seed: Seed, iter: 300);

    [Fact]
    public void Passes_of_a_bar_count_from_one() => RandomTimelines.Built.Sample(built =>
    {
        foreach (var bar in built.Timeline.Bars.GroupBy(bar => bar.Written))
            Assert.Equal(Enumerable.Range(1, bar.Count()), bar.Select(played => played.Pass));
    }, seed: Seed, iter: 300);

    [Fact]
    public void Written_bar_by_bar_a_score_is_the_same_as_part_by_part() => Gen.Int[0, 1_000_000].Sample(number =>
    {
        var xml = RandomScores.Of(number, new RandomShape());
        var partwise = Draw.Read(xml);
        var timewise = Draw.Read(Turned(xml));
        var (one, other) = (TimelineBuilder.Build(partwise), TimelineBuilder.Build(timewise));
        Assert.Equal(one.Order.Steps, other.Order.Steps);
        Assert.Equal(one.Timeline.Bars.Select(bar => (bar.Label, bar.Pass, bar.Start, bar.Meter)), other.Timeline.Bars.Select(bar => (bar.Label, bar.Pass, bar.Start, bar.Meter)));
        Assert.Equal(one.Timeline.Tempo.Pieces, other.Timeline.Tempo.Pieces);
        Assert.Equal(one.Warnings.Select(warning => warning.Found), other.Warnings.Select(warning => warning.Found));
        Assert.Equal(partwise.Parts.SelectMany(part => part.Notes), timewise.Parts.SelectMany(part => part.Notes));
    }, seed: Seed, iter: 200);

    /// <summary>score-partwise as score-timewise: the measures of each place together, each with its parts.</summary>
    private static string Turned(string partwise)
    {
        var root = XDocument.Parse(partwise).Root!;
        var parts = root.Elements("part").ToList();
        var measures = parts[0].Elements("measure").Select((measure, i) => new XElement("measure", measure.Attributes(),
            parts.Select(part => new XElement("part", part.Attributes(), part.Elements("measure").ElementAt(i).Nodes()))));
        return new XElement("score-timewise", root.Elements("part-list"), measures).ToString(SaveOptions.DisableFormatting);
    }
}
