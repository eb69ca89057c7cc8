using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Desk.Tests;

/// <summary>Small pieces, plans, rides and maps to test with.</summary>
internal static class Pieces
{
    public static Timeline Of(TempoMap tempo, params (int Bars, Meter Meter)[] stretches)
    {
        var bars = new List<PlayedBar>();
        var at = Quarters.Zero;
        foreach (var (count, meter) in stretches)
            for (var i = 0; i < count; i++)
            {
                var number = bars.Count + 1;
                bars.Add(Bar(number, number, 1, meter, at, meter.Length));
                at += meter.Length;
            }
        return new Timeline(bars, [], tempo);
    }

    public static PlayedBar Bar(int index, int written, int pass, Meter meter, Quarters start, Quarters length) => new()
    {
        Index = index,
        Label = $"{written}",
        Written = written,
        Pass = pass,
        Meter = meter,
        Start = start,
        Length = length,
        Beats = PlayedBar.BeatsOf(start, length, meter),
    };

    public static TempoMap Steady(double tempo = 120) => new([new TempoPiece(Quarters.Zero, tempo)]);

    public static MixPlan Plan(int sources, double delayMs = 38)
    {
        var place = new Place("night.mix.yaml", 1, 1);
        var site = new Site("north", new Link(Seconds.FromMilliseconds(delayMs), OnDrop.Usual), place);
        return new MixPlan
        {
            File = "night.mix.yaml",
            Title = "Night",
            Score = "night.musicxml",
            Sites = [site],
            Sources = [.. Enumerable.Range(1, sources).Select(i => new Source
            {
                Name = $"north.s{i}",
                Site = site,
                Role = Role.Instrument,
                Stem = $"stems/{i}.wav",
                Strip = i,
                Place = place,
            })],
        };
    }

    public static Ride Ride(int source, params (int Quarter, double? Gain)[] vertices) => new($"north.s{source}",
        [.. vertices.Select(v => new Vertex(new Quarters(v.Quarter), v.Gain is { } gain ? Decibels.Of(gain) : null))], Decibels.Of(-60));

    public static FaderLaw RealLaw { get; } = new([P(-60, 0.05), P(-30, 0.25), P(-10, 0.5), P(0, 0.75), P(10, 1)], 0, WireNumber.Real32);

    public static FaderLaw Law14 { get; } = new([P(-60, 800), P(0, 12288), P(10, 16383)], 0, WireNumber.Whole);

    public static FaderLaw Law7 { get; } = new([P(-60, 1), P(-30, 31), P(10, 127)], 0, WireNumber.Whole);

    public static DeskMap Osc(FaderLaw? law = null) => Map(DeskProtocol.Osc,
        new OscControl(StripTemplate.Parse("/strip/{strip}/fader"), law?.Number == WireNumber.Whole ? Protocols.Osc.OscTag.Int32 : Protocols.Osc.OscTag.Float32), law ?? RealLaw);

    public static DeskMap Midi(FaderLaw? law = null, MidiTarget kind = MidiTarget.Controller, int bits = 14) => Map(DeskProtocol.Midi, kind switch
    {
        MidiTarget.Controller => new MidiControl(kind, StripTemplate.Parse("{(strip - 1) / 32 + 1}"), StripTemplate.Parse("{(strip - 1) % 32}"), bits),
        MidiTarget.Nrpn => new MidiControl(kind, StripTemplate.Parse("1"), StripTemplate.Parse("{strip + 1000}"), bits),
        _ => new MidiControl(kind, StripTemplate.Parse("{strip}"), null, bits),
    }, law ?? Law14);

    public static LawPoint P(double gain, double value) => new(Decibels.Of(gain), value);

    /// <summary>Rides over a piece of so many quarters: up to 60 dB a second at 120 quarters a minute, with rests and stretches of off.</summary>
    public static Gen<Ride> Rides(int source, int quarters)
    {
        var gain = Gen.Frequency((5, Gen.Double[-60, 10].Select(g => (double?)Math.Round(g, 2))), (1, Gen.Const((double?)null)));
        return Gen.Select(Gen.Int[1, quarters - 1].HashSet[0, 8], gain.Array[10]).Select((at, gains) =>
        {
            int[] places = [0, .. at.Order(), quarters];
            return Ride(source, [.. places.Select((place, i) => (place, i > 0 && (place - places[i - 1]) <= 1 ? gains[i - 1] : gains[i]))]);
        });
    }

    private static DeskMap Map(DeskProtocol protocol, DeskControl control, FaderLaw law) => new()
    {
        Title = "A desk",
        Protocol = protocol,
        To = new Endpoint(Carrier.Udp, "127.0.0.1", 9000),
        Fader = new DeskFader(control, law, new Place("hall.desk.yaml", 5, 3)),
        Place = new Place("hall.desk.yaml", 1, 1),
    };
}
