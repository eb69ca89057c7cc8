using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Fold;

/// <summary>A piece by chance: bars with a repeat, a plan as text with marks of two sources, and what their stems hold. Invented.</summary>
internal sealed class FoldPiece
{
    private readonly WrittenScore _score;
    private readonly IReadOnlyList<LoudnessTrace> _stems;

    internal FoldPiece(int seed)
    {
        var chance = new Random(seed);
        var (bars, unit) = (chance.Next(9, 16), chance.Next(3) == 0 ? 3 : 4);
        var meter = new Meter($"{unit}/4", [.. Enumerable.Repeat(new Quarters(1), unit)]);
        var (repeats, from) = (chance.Next(2) == 0, chance.Next(1, 5));
        _score = new WrittenScore
        {
            Title = "T",
            Bars = [.. Enumerable.Range(1, bars).Select(i => new WrittenBar
            {
                Number = i, Label = $"{i}", Meter = meter, Length = meter.Length,
                RepeatStarts = repeats && i == from, Plays = repeats && i == from + 2 ? 2 : 1,
            })],
            Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), chance.Next(60, 133))],
        };
        Names = ["north.voice", "south.horn"];
        Text = Plan(chance, bars, unit);
        var timeline = OnScore(Text).Timeline;
        _stems = [.. Names.Select(_ => Stem(chance, timeline.Duration.Value + 1))];
    }

    internal IReadOnlyList<string> Names { get; }

    /// <summary>The plan's text.</summary>
    internal string Text { get; }

    internal PlanOnScore OnScore(string text) => PlanOnScore.Resolve(PlanReader.Parse(text, "t.mix.yaml"), _score);

    internal IReadOnlyList<SourceToFit> Sources(PlanOnScore onScore) =>
        [.. onScore.Sources.Zip(_stems, (source, stem) => new SourceToFit(source.Source.Name, source.Source.Within, source.Levels, stem, source.Source.Site.Link.Delay))];

    internal LivePlan Live(PlanOnScore onScore) =>
        LivePlan.Of(onScore, [.. RideFitter.Fit(onScore.Timeline, onScore.Plan.Limits, Sources(onScore)).Select(fitted => fitted.Ride)]);

    /// <summary>Whether a source's stem sounds at a time by the click.</summary>
    internal bool Sounds(int source, double seconds)
    {
        var samples = _stems[source].Samples;
        var at = (int)Math.Floor(seconds / Sample);
        return at >= 0 && at + 1 < samples.Count && samples[at].Loudness is not null && samples[at + 1].Loudness is not null;
    }

    private const double Sample = 0.1;

    private string Plan(Random chance, int bars, int beats)
    {
        var text = FormattableString.Invariant($"""
            title: T
            score: t.musicxml
            sites:
              north: {"{"} link: {"{"} delay: {chance.Next(0, 80)} ms {"}"} {"}"}
              south: {"{"} link: {"{"} delay: {chance.Next(0, 80)} ms {"}"} {"}"}
            sources:
              north.voice: {"{"} role: voice, stem: v.wav, strip: 1, within: {chance.Next(2, 7) / 2.0:0.#} LU {"}"}
              south.horn:  {"{"} role: instrument, stem: h.wav, strip: 2, within: {chance.Next(2, 7) / 2.0:0.#} LU {"}"}
            levels:

            """);
        foreach (var name in Names)
        {
            text += $"  {name}:\n    1: {Level(chance)}\n";
            for (var bar = 2; bar < bars; bar += chance.Next(1, 5))
            {
                var beat = chance.Next(4) == 0 ? $":{chance.Next(2, beats + 1)}" : "";
                if (chance.Next(5) == 0 && beat.Length == 0) text += $"    {bar}..{++bar}: {Level(chance)} > {Level(chance)}  # swells\n";
                else text += $"    {bar}{beat}: {Level(chance)}{(chance.Next(3) == 0 ? "   # as written" : "")}\n";
            }
        }
        return text;
    }

    private static string Level(Random chance) => (chance.Next(-24, -3) / 2.0 - 2).ToString("0.#", CultureInfo.InvariantCulture);

    // Slow swells as the 3 s window leaves them, between rests.
    private static LoudnessTrace Stem(Random chance, double seconds)
    {
        var (level, depth, period, phase) = (chance.Next(-16, 4) / 2.0, chance.NextDouble() * 3, 4 + chance.NextDouble() * 8, chance.NextDouble() * 6);
        var (rest, length) = (chance.NextDouble() * seconds, chance.Next(2) * chance.NextDouble() * 4);
        return new LoudnessTrace([.. Enumerable.Range(0, (int)(seconds / Sample)).Select(i => i * Sample).Select(t =>
            new LoudnessSample(new Seconds(t), t >= rest && t < rest + length ? null : Decibels.Of(level + depth * Math.Sin(phase + 2 * Math.PI * t / period))))]);
    }
}
