using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live.Benchmarks;

/// <summary>An hour of music for many sources, all of which move.</summary>
internal static class Big
{
    internal static int[] Strips(int sources) => [.. Enumerable.Range(1, sources)];

    internal static DeskMap Map(int port) => DeskMapReader.Parse($$"""
        title: A desk that speaks OSC
        protocol: osc
        to: udp://127.0.0.1:{{port}}
        strip:
          fader: { address: "/strip/{strip}/fader", type: f, off: 0.0, law: [[-60, 0.05], [0, 0.75], [+10, 1.0]] }
        """, "hall.desk.yaml")[0];

    internal static LivePlan Plan(int sources)
    {
        var bars = Enumerable.Range(0, 1800).Select(i => new PlayedBar
        {
            Index = i + 1,
            Label = $"{i + 1}",
            Written = i + 1,
            Pass = 1,
            Meter = Meter.Common,
            Start = new Quarters(4 * i),
            Length = Meter.Common.Length,
            Beats = PlayedBar.BeatsOf(new Quarters(4 * i), Meter.Common.Length, Meter.Common),
        }).ToArray();
        var timeline = new Timeline(bars, [], new TempoMap([new TempoPiece(Quarters.Zero, 120)]));
        return new LivePlan(timeline, new Limits(), [.. Enumerable.Range(0, sources).Select(i =>
        {
            var site = new Site($"s{i % 8}", new Link(Seconds.FromMilliseconds(i % 60), OnDrop.Usual), default);
            var source = new Source { Name = $"{site.Name}.f{i}", Site = site, Role = Role.Instrument, Stem = "x.wav", Strip = i + 1, Place = default };
            return new LiveSource(source, new Ride(source.Name, [.. Enumerable.Range(0, 451).Select(v => new Vertex(new Quarters(v * 16), Decibels.Of(-20 + ((v + i) % 3 * 6))))], Decibels.Of(-60)));
        })]);
    }
}
