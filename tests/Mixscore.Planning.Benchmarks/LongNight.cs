using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning.Benchmarks;

/// <summary>
/// A long piece by chance, always the same: four beats a bar at 120, a mark every eight bars, a rest now and then, and
/// feeds that wander by some decibels over seconds, as players do, with a finer unrest on top.
/// </summary>
internal static class LongNight
{
    private const int BeatsPerBar = 4;
    private const int BarsPerMark = 8;
    private const double SampleSeconds = 0.1;
    private const double BeatSeconds = 0.5;

    internal static Timeline Timeline(int beats)
    {
        var length = new Quarters(BeatsPerBar);
        var bars = Enumerable.Range(0, beats / BeatsPerBar).Select(i => new PlayedBar
        {
            Index = i + 1,
            Label = $"{i + 1}",
            Written = i + 1,
            Pass = 1,
            Meter = Meter.Common,
            Start = new Quarters(BeatsPerBar * i),
            Length = length,
            Beats = PlayedBar.BeatsOf(new Quarters(BeatsPerBar * i), length, Meter.Common),
        });
        return new Timeline([.. bars], [], new TempoMap([new TempoPiece(Quarters.Zero, 120)]));
    }

    internal static SourceToFit Source(int number, Timeline timeline, bool neverOff = false)
    {
        var random = new Random(number);
        return new SourceToFit($"north.s{number}", Decibels.Of(2), Levels(random, timeline, neverOff), Loudness(random, timeline), new Seconds(0.038));
    }

    private static LevelLine Levels(Random random, Timeline timeline, bool neverOff)
    {
        var segments = new List<LevelSegment>();
        var (at, level) = (Quarters.Zero, -12.0);
        while (at < timeline.End)
        {
            var to = Quarters.Min(timeline.End, at + new Quarters(BeatsPerBar * BarsPerMark));
            var next = Math.Clamp(level + random.Next(-4, 5), -24, 0);
            segments.Add(random.Next(10) switch
            {
                0 when !neverOff => new LevelSegment.Off(at, to, null),
                < 3 => new LevelSegment.Straight(at, to, null, Decibels.Of(level), Decibels.Of(next)),
                _ => new LevelSegment.Straight(at, to, null, Decibels.Of(next), Decibels.Of(next)),
            });
            (at, level) = (to, next);
        }
        return new LevelLine(segments, Decibels.Of(-60));
    }

    private static LoudnessTrace Loudness(Random random, Timeline timeline)
    {
        var samples = new LoudnessSample[(int)(timeline.Duration.Value / SampleSeconds)];
        var (slow, fast, rest) = (0.0, 0.0, 0);
        for (var i = 0; i < samples.Length; i++)
        {
            slow += 0.01 * (random.Next(-6, 7) - slow);
            fast += 0.2 * (random.NextDouble() * 4 - 2 - fast);
            if (i % 16 == 0) rest = random.Next(100) == 0 ? 80 : Math.Max(0, rest - 16);
            samples[i] = new LoudnessSample(new Seconds(i * SampleSeconds), rest > 0 ? null : Decibels.Of(3 * slow + fast));
        }
        return new LoudnessTrace(samples);
    }

    /// <summary>The beats of so many minutes.</summary>
    internal static int Beats(double minutes) => (int)(minutes * 60 / BeatSeconds);
}
