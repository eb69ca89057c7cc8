using CsCheck;

namespace Mixscore.Score.Tests;

/// <summary>Timelines of random scores, with tempi, straight changes and holds of a plan laid over them.</summary>
internal static class RandomTimelines
{
    internal static readonly Gen<WrittenScore> Scores = Gen.Int[0, 1_000_000].Select(seed => Draw.Read(RandomScores.Of(seed, new RandomShape())));

    internal static readonly Gen<BuiltTimeline> Built =
        from score in Scores
        let plain = TimelineBuilder.Build(score).Timeline
        from overrides in Override(plain).Array[0, 4]
        select TimelineBuilder.Build(score, new TimelineOptions { Tempo = overrides });

    /// <summary>A place in a timeline: any part of any beat, with a denominator up to 48.</summary>
    internal static Gen<Quarters> PlaceIn(Timeline timeline) =>
        from bar in Gen.Int[0, timeline.Bars.Count - 1].Select(i => timeline.Bars[i])
        from denominator in Gen.Int[1, 48]
        from numerator in Gen.Int[0, denominator - 1]
        select bar.Start + bar.Length * new Fraction(numerator, denominator);

    private static Gen<TempoOverride> Override(Timeline timeline)
    {
        var place = Gen.Int[0, timeline.BeatGrid.Count - 2].Select(i => timeline.PositionAt(timeline.BeatGrid[i]));
        var tempo = Gen.Double[20, 300];
        return Gen.OneOf(
            Gen.Select(place, tempo, (at, v) => new TempoOverride(at, StartTempo: v)),
            Gen.Select(place, place, tempo, tempo, (from, to, v, w) => new TempoOverride(from, to, v, w)),
            Gen.Select(place, tempo, (from, v) => new TempoOverride(from, Position.End, null, v)),
            Gen.Select(place, Gen.Double[0.1, 12], (at, seconds) => new TempoOverride(at, Hold: new Seconds(seconds))));
    }
}
