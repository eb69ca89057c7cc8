using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Nights;

/// <summary>A plan of two sources on twelve bars of 4/4 at 120, bars 5 to 8 played twice, and nights of it, invented.</summary>
internal static class SampleNight
{
    internal static PlanOnScore OnScore(string levels = "1: -6") => PlanOnScore.Resolve(PlanReader.Parse($$"""
        title: Sample & <test>
        score: s.musicxml
        sites:
          north: { link: { delay: 38 ms } }
        sources:
          north.voice: { role: voice, stem: v.wav, strip: 1 }
          north.horn: { role: instrument, stem: h.wav, strip: 2 }
        levels:
          north.voice:
            {{levels}}

        """, "t.mix.yaml"), new WrittenScore
    {
        Title = "T",
        Bars = [.. Enumerable.Range(1, 12).Select(i => new WrittenBar { Number = i, Label = $"{i}", Meter = Meter.Common, Length = Meter.Common.Length, RepeatStarts = i == 5, Plays = i == 8 ? 2 : 1 })],
        Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), 120)],
        Letters = [new WrittenLetter("A", 5)],
    });

    internal static Ride Ride(string source, double db = 0) => new(source, [new Vertex(Quarters.Zero, Decibels.Of(db)), new Vertex(new Quarters(64), Decibels.Of(db))], Decibels.Of(-60));

    internal static NightRecord Night(string name, params HandStretch[] voice) => new()
    {
        Name = name,
        Hands = new FoldNight { Date = new DateTimeOffset(2026, 11, 25, 20, 0, 0, TimeSpan.Zero), Hall = "<quay>", Played = [(0, 64)], Sources = [new NightSource("north.voice", Ride("north.voice"), voice), new NightSource("north.horn", Ride("north.horn"), [])] },
        Clock = "mtc",
        Events =
        [
            new NightEvent(NightEventKind.FeedGone, 40, 44, "north.horn", "north.horn is silent"),
            new NightEvent(NightEventKind.ClockGone, 20, 22, null, "clock carrying on"),
            new NightEvent(NightEventKind.LateTick, 30, 30, null, "a tick came 80 ms late") { By = new Seconds(0.08) },
            new NightEvent(NightEventKind.Note, 50, 50, null, "softer <here>"),
        ],
        Story = [("", ["armed"]), ("5@2", ["beat 2: north.voice taken at -4.0 dB"])],
        Taken = voice.Length > 0 ? new Dictionary<string, int> { ["north.voice"] = 1 } : [],
        Notes = ["line 4 cannot be read; the rest is folded"],
    };

    internal static HandStretch Hand(double from, double to, double db) => new(from, to, HandKind.Hand, Decibels.Of(db));
}
