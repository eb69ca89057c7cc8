using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Sheet;

/// <summary>An invented piece of so many bars and sources, whose faders move often.</summary>
internal static class SampleSheet
{
    internal static SheetInput Make(int sources, int bars = 24, int beatsBetweenMoves = 3)
    {
        var score = new WrittenScore
        {
            Title = "Sample",
            Bars = [.. Enumerable.Range(1, bars).Select(i => new WrittenBar { Number = i, Label = $"{i}", Meter = Meter.Common, Length = new Quarters(4) })],
            Letters = bars > 9 ? [new WrittenLetter("A", 9)] : [],
            Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), 72)],
            Parts = [],
        };
        var place = new Place("sample.mix.yaml", 1, 1);
        var sites = Enumerable.Range(0, (sources + 2) / 3).Select(i => new Site($"site{i + 1}", new Link(Seconds.FromMilliseconds(10 * i), OnDrop.Usual), place)).ToArray();
        var plan = new MixPlan
        {
            File = "/project/sample.mix.yaml",
            Title = "Sample",
            Score = "sample.musicxml",
            Sites = sites,
            Sources = [.. Enumerable.Range(0, sources).Select(i => new Source { Name = $"site{i / 3 + 1}.source{i + 1}", Site = sites[i / 3], Role = (Role)(i % 3), Stem = $"{i}.wav", Strip = i + 1, Place = place })],
            Levels = [.. Enumerable.Range(0, sources).Select(i => new SourceLevels($"site{i / 3 + 1}.source{i + 1}", [new Mark(Position.Parse("1"), null, new Level.At(Decibels.Of(-6 - i)), new Level.At(Decibels.Of(-6 - i)), place)], place))],
        };
        var onScore = PlanOnScore.Resolve(plan, score);
        var end = onScore.Timeline.End;
        return new SheetInput
        {
            Plan = onScore,
            Performance = Performance.Of(score, onScore.Timeline),
            Rides = [.. plan.Sources.Select((source, s) => new FittedSource(RideOf(source.Name, s), s == 1 ? [new WidenedStretch(new Quarters(8), new Quarters(12), Decibels.Of(2.5), Because.TooQuiet, $"bar 3: {source.Name} arrives 2.5 dB too quiet for a fader that tops at +10")] : []))],
            Date = new DateOnly(2026, 5, 1),
            Version = "0123abcd",
            Cautions = ["Take care."],
        };

        Ride RideOf(string name, int s)
        {
            var vertices = new List<Vertex> { new(Quarters.Zero, s % 4 == 3 ? null : Decibels.Of(-s)) };
            if (s % 4 != 3)
                for (var (at, i) = (new Quarters(1 + s), 0); at < end; at += new Quarters(beatsBetweenMoves + s % 3), i++) vertices.Add(new Vertex(at, i % 7 == 6 ? null : Decibels.Of(i % 3 * 4 - 12.34)));
            vertices.Add(new Vertex(end, vertices[^1].Gain));
            return new Ride(name, vertices, Decibels.Of(-60));
        }
    }
}
