using CsCheck;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Files;

// A law, over random meters, tempi, changes and holds: the tempo map that is written is the one that is read.
public class MidiTwinTempoTests
{
    private static readonly Meter[] Meters = [Meter.Simple(4, 4), Meter.Simple(3, 4), Meter.Simple(6, 8), Meter.Simple(5, 8), Meter.Simple(2, 2)];

    private static readonly Gen<(WrittenScore Score, Timeline Timeline)> Drawn =
        from meters in Gen.Int[0, Meters.Length - 1].Array[2, 12]
        from tempi in Gen.Double[20, 300].Array[1, 6]
        from changes in Gen.Bool.Array[tempi.Length]
        from holds in Gen.Select(Gen.Int[1, meters.Length], Gen.Double[0.3, 8]).Array[0, 2]
        select Draw(meters, tempi, changes, holds);

    private static (WrittenScore Score, Timeline Timeline) Draw(int[] meters, double[] tempi, bool[] changes, (int Bar, double Seconds)[] holds)
    {
        var bars = meters.Select((meter, i) => new WrittenBar { Number = i + 1, Label = $"{i + 1}", Meter = Meters[meter], Length = Meters[meter].Length }).ToList();
        var score = new WrittenScore
        {
            Title = "Drawn",
            Bars = bars,
            Tempo = [.. tempi.Take(bars.Count).Select((tempo, i) => new WrittenTempo(new WrittenPlace(i + 1, Quarters.Zero), tempo))],
        };
        var overrides = new List<TempoOverride>();
        for (var i = 0; i + 1 < Math.Min(tempi.Length, bars.Count); i++)
            if (changes[i]) overrides.Add(new TempoOverride(Position.Parse($"{i + 1}"), Position.Parse($"{i + 2}"), tempi[i], tempi[i + 1]));
        overrides.AddRange(holds.DistinctBy(hold => hold.Bar).Select(hold => new TempoOverride(Position.Parse($"{hold.Bar}:2"), Hold: new Seconds(hold.Seconds))));
        var built = TimelineBuilder.Build(score, new TimelineOptions { Tempo = overrides });
        Assert.Empty(built.Problems);
        return (score, built.Timeline);
    }

    // Tolerance: a change of tempo is written in steps that stay within 0.1 ms of it (FileTempo), and ticks are half a millisecond or less.
    [Fact]
    public void The_tempo_map_reads_back_the_same() => Drawn.Sample(drawn =>
    {
        var (score, timeline) = drawn;
        using var file = new MemoryStream(MidiTwin.Of(score, timeline));
        var read = TempoFile.Of(ScoreFile.Read(file, "twin.mid"));
        Assert.Equal(timeline.End, read.Timeline.End);
        var again = TimelineBuilder.Build(score, new TimelineOptions { PlayedTempo = read });
        Assert.Empty(again.Warnings);
        Assert.All(timeline.BeatGrid, beat => Assert.Equal(timeline.Tempo.SecondsAt(beat).Value, again.Timeline.Tempo.SecondsAt(beat).Value, 0.0005));
        // Where the tempo stands still it is the same number, to the rounding of whole microseconds over a stretch of at least a beat.
        var pieces = timeline.Tempo.Pieces.Where(piece => piece.From < timeline.End).ToList();
        foreach (var piece in pieces.Where(piece => piece.IsConstant))
            Assert.Equal(piece.StartTempo, again.Timeline.Tempo.TempoAt(piece.From.ToDouble() + 1e-6), piece.StartTempo * 0.001);
    }, iter: 300, seed: "0000000000001");
}
