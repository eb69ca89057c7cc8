using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Page;

/// <summary>A small piece with two sources, invented: 40 bars of 4/4 at 96, letters A and B, one step, one rest, one dropout, one noise burst.</summary>
internal static class SampleReport
{
    internal static ReportInput Make()
    {
        var bars = Enumerable.Range(0, 40).Select(i => new PlayedBar
        {
            Index = i + 1,
            Label = (i < 30 ? i + 1 : i - 9).ToString(),
            Written = i < 30 ? i + 1 : i - 9,
            Pass = i < 30 ? 1 : 2,
            Meter = Meter.Common,
            Start = new Quarters(4 * i),
            Length = new Quarters(4),
            Beats = PlayedBar.BeatsOf(new Quarters(4 * i), new Quarters(4), Meter.Common),
        }).ToArray();
        var timeline = new Timeline(bars, [new PlayedLetter("A", 9), new PlayedLetter("B", 21)], new TempoMap([new TempoPiece(Quarters.Zero, 96)]));
        var site = new Site("north", new Link(new Seconds(0.04), OnDrop.Usual), default);
        var plan = new MixPlan
        {
            File = "/project/sample.mix.yaml",
            Title = "Sample & <test>",
            Score = "sample.musicxml",
            Sites = [site],
            Sources = [Source("north.voice", Role.Voice, 1), Source("north.engine", Role.Ambient, 2)],
        };
        var heard = plan.Sources.Select((source, i) => Heard(source, timeline, i));
        var result = MixCheck.Judge(timeline, new CheckedMix(new Lufs(-22.4), Decibels.Of(8.1), Decibels.Of(-3.2), Decibels.Of(-1)), heard);
        return new ReportInput { Plan = plan, Timeline = timeline, Result = result, Warnings = ["north.engine: the stem ends in bar 39; what follows is not measured."] };

        Source Source(string name, Role role, int strip) => new() { Name = name, Site = site, Role = role, Stem = name + ".wav", Strip = strip, Place = default };
    }

    private static MixCheck.Heard Heard(Source source, Timeline timeline, int which)
    {
        var hops = (int)((timeline.Duration.Value + 0.1) * 100);
        var input = new SourceCheck.Input
        {
            StemEnergy = new double[hops],
            HeardEnergy = new double[hops],
            Plays = new bool[hops],
            Asked = new double[hops],
            AskedLow = new double[hops],
            AskedHigh = new double[hops],
            Reference = -23,
            Within = Enumerable.Repeat(2.0, hops).ToArray(),
            Delay = source.Site.Link.Delay,
        };
        var ride = new Ride(source.Name, [new(Quarters.Zero, null), new(new Quarters(12), null), new(new Quarters(16), Decibels.Of(4 - which)), new(new Quarters(80), Decibels.Of(4)), new(new Quarters(84), Decibels.Of(8)), new(timeline.End, Decibels.Of(7))], Decibels.Of(-60));
        for (var i = 0; i < hops; i++)
        {
            var time = i * 0.01;
            var quarters = timeline.Tempo.QuartersAt(new Seconds(time - 0.04));
            var stem = -31 + 2.5 * Math.Sin(time / 7) + Math.Sin(time / 1.3) - (which == 0 && time is > 62 and < 70 ? 6 : 0);
            input.Plays[i] = time is > 8 and < 40 or > 44;
            input.StemEnergy[i] = input.Plays[i] ? Math.Pow(10, (stem + 0.691) / 10) : 0;
            input.HeardEnergy[i] = input.StemEnergy[i] * (ride.At(quarters)?.ToPowerRatio() ?? 0);
            input.Asked[i] = input.AskedLow[i] = input.AskedHigh[i] = quarters < 16 ? 0 : Math.Pow(10, (quarters < 84 ? -4 : 0) / 10.0);
        }
        return new(source, ride, SourceCheck.Trace(input), new Lufs(-31), [(new Seconds(30), new Seconds(31))],
            which == 0 ? [new WidenedNote(new Seconds(62), new Seconds(70), "bars 25–28: north.voice arrives 4 dB too quiet for a fader that tops at +10.")] : [])
        {
            Bursts = which == 0 ? [(new Seconds(20), new Seconds(20.3))] : [],
        };
    }
}
