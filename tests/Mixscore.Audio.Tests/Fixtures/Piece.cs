using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests;

/// <summary>Pieces of 4/4 bars, plans and rides for them.</summary>
internal static class Piece
{
    /// <summary>Bars of four quarters; at 60 quarters a minute a quarter is a second.</summary>
    public static Timeline Of(int bars, params TempoPiece[] tempo) => new(
        [
            .. Enumerable.Range(0, bars).Select(i => new PlayedBar
            {
                Index = i + 1,
                Label = $"{i + 1}",
                Written = i + 1,
                Pass = 1,
                Meter = Meter.Common,
                Start = new Quarters(4 * i),
                Length = new Quarters(4),
                Beats = PlayedBar.BeatsOf(new Quarters(4 * i), new Quarters(4), Meter.Common),
            }),
        ],
        [],
        new TempoMap(tempo.Length > 0 ? tempo : [new TempoPiece(Quarters.Zero, 60)]));

    /// <summary>A ride through (quarters, dB); NaN is off.</summary>
    public static Ride Ride(params (double Quarters, double Decibels)[] vertices) => Ride("north.voice", vertices);

    public static Ride Ride(string source, params (double Quarters, double Decibels)[] vertices) => new(source,
        [
            .. vertices.Select(v => new Vertex(new Quarters((long)Math.Round(v.Quarters * 960), 960),
                double.IsNaN(v.Decibels) ? null : Decibels.Of(v.Decibels))),
        ],
        Decibels.Of(-60));

    public static Site Site(string name, double delaySeconds) => new(name, new Link(new Seconds(delaySeconds), OnDrop.Usual), new Place("p.mix.yaml", 6, 3));

    /// <summary>A plan whose sources stand on lines 10, 11 … of the plan.</summary>
    public static MixPlan Plan(Folder folder, params (string Name, Site Site, string Stem)[] sources) => new()
    {
        File = folder["p.mix.yaml"],
        Title = "A piece",
        Score = "p.musicxml",
        Sites = [.. sources.Select(s => s.Site).Distinct()],
        Sources =
        [
            .. sources.Select((s, i) => new Source
            {
                Name = s.Name,
                Site = s.Site,
                Role = Role.Instrument,
                Stem = s.Stem,
                Strip = i + 1,
                Place = new Place("p.mix.yaml", 10 + i, 3),
            }),
        ],
    };
}
