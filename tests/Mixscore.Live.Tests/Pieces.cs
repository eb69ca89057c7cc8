using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live.Tests;

/// <summary>Small plans, rides and maps to test with.</summary>
internal static class Pieces
{
    public const string OscMap = """
        title: A desk that speaks OSC
        protocol: osc
        to: udp://127.0.0.1:9000
        listen: udp://127.0.0.1:9001
        strip:
          fader: { address: "/strip/{strip}/fader", type: f, off: 0.0, law: [[-60, 0.05], [-30, 0.25], [-10, 0.5], [0, 0.75], [+10, 1.0]] }
          meter: { address: "/strip/{strip}/meter", type: f, off: 0.0, law: [[-80, 0.1], [0, 1.0]] }
        """;

    public const string MidiMap = """
        title: A desk that speaks MIDI
        protocol: midi
        to: rtp-midi://127.0.0.1:5004
        strip:
          fader: { channel: 1, control: "{strip - 1}", bits: 14, off: 0, law: [[-60, 800], [0, 12288], [+10, 16383]] }
        """;

    public static DeskMap Osc => DeskMapReader.Parse(OscMap, "hall.desk.yaml")[0];

    public static DeskMap Midi => DeskMapReader.Parse(MidiMap, "hall.desk.yaml")[0];

    /// <summary>So many bars of 4/4 at 120, two seconds each.</summary>
    public static Timeline Bars(int count, double tempo = 120) =>
        new([.. Enumerable.Range(0, count).Select(i => Bar(i + 1, new Quarters(4 * i)))], [], new TempoMap([new TempoPiece(Quarters.Zero, tempo)]));

    public static Source Source(string name, int strip, double delayMs = 0, OnDrop? onDrop = null, Role role = Role.Instrument) => new()
    {
        Name = name,
        Site = new Site(name.Split('.')[0], new Link(Seconds.FromMilliseconds(delayMs), onDrop ?? OnDrop.Usual), default),
        Role = role,
        Stem = "stems/x.wav",
        Strip = strip,
        Place = default,
    };

    /// <summary>A ride through (quarter, dB) corners; no dB is off.</summary>
    public static Ride Ride(string source, params (int Quarter, double? Db)[] corners) =>
        new(source, [.. corners.Select(corner => new Vertex(new Quarters(corner.Quarter), corner.Db is { } db ? Decibels.Of(db) : null))], Decibels.Of(-60));

    public static LivePlan Plan(Timeline timeline, params (Source Source, Ride Ride)[] sources) =>
        new(timeline, new Limits(), [.. sources.Select(pair => new LiveSource(pair.Source, pair.Ride))]);

    /// <summary>Sixteen bars, three sources: one at rest at −10, one that moves from −20 to 0 over bars 5 to 8 and back, one that is off till bar 3.</summary>
    public static LivePlan Three(double delayMs = 0, OnDrop? onDrop = null) => Plan(
        Bars(16),
        (Source("north.voice", 1, delayMs, onDrop, Role.Voice), Ride("north.voice", (0, -10), (64, -10))),
        (Source("north.horn", 2, delayMs, onDrop), Ride("north.horn", (0, -20), (16, -20), (32, 0), (48, -20), (64, -20))),
        (Source("south.engine", 3, delayMs, onDrop, Role.Ambient), Ride("south.engine", (0, null), (8, null), (16, -12), (60, -12), (64, null))));

    private static PlayedBar Bar(int number, Quarters start) => new()
    {
        Index = number,
        Label = $"{number}",
        Written = number,
        Pass = 1,
        Meter = Meter.Common,
        Start = start,
        Length = Meter.Common.Length,
        Beats = PlayedBar.BeatsOf(start, Meter.Common.Length, Meter.Common),
    };
}
