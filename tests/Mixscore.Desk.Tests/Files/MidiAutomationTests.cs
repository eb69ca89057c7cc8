using CsCheck;
using Mixscore.Protocols.Midi;
using Mixscore.Score;
using NAudio.Midi;

namespace Mixscore.Desk.Tests.Files;

public class MidiAutomationTests
{
    private static readonly Gen<TempoMap> Tempi = Gen.Select(Gen.Int[1, 299].HashSet[0, 8], Gen.Double[12, 300].Array[20], Gen.Bool.Array[9]).Select((at, tempi, moves) =>
    {
        int[] places = [0, .. at.Order()];
        return new TempoMap(places.Select((place, i) => new TempoPiece(new Quarters(place, 1), tempi[2 * i], i < places.Length - 1 && moves[i] ? tempi[2 * i + 1] : tempi[2 * i])));
    });

    // Contract: every bar line within 1 ms of the timeline, with no drift. Read by a reader of our own.
    [Fact]
    public void Every_bar_line_lies_within_a_millisecond_of_the_timeline() => Tempi.Sample(map =>
    {
        var timeline = Pieces.Of(map, (20, Meter.Common), (17, Meter.Simple(6, 8)), (30, Meter.Simple(5, 4)));
        var smf = LittleSmf.Read(File(timeline).Bytes.Span);
        foreach (var bar in timeline.Bars)
            Assert.Equal(map.SecondsAt(bar.Start).Value, smf.SecondsAt(bar.Start.ToDouble() * smf.TicksPerQuarter), 0.001);
        Assert.Equal(timeline.Duration.Value, smf.SecondsAt(timeline.End.ToDouble() * smf.TicksPerQuarter), 0.001);
    }, iter: 200);

    // Derived: 133 quarters a minute is 451,127.8 µs; whole microseconds alone would be 1.3 ms late after 6,000 quarters.
    [Fact]
    public void A_long_piece_in_one_tempo_does_not_drift()
    {
        var timeline = Pieces.Of(Pieces.Steady(133), (1500, Meter.Common));
        var smf = LittleSmf.Read(File(timeline).Bytes.Span);
        Assert.All(timeline.Bars, bar => Assert.Equal(timeline.Tempo.SecondsAt(bar.Start).Value, smf.SecondsAt(bar.Start.ToDouble() * smf.TicksPerQuarter), 0.0001));
    }

    // The messages as a desk would take them, at the times of the file: each within a tick, or two where a fader shuts and opens at once.
    [Fact]
    public void A_desk_that_plays_the_file_follows_the_ride() => Gen.Select(Pieces.Rides(1, 100), Tempi, Gen.OneOf(Gen.Const(MidiTarget.Controller), Gen.Const(MidiTarget.Nrpn), Gen.Const(MidiTarget.PitchBend))).Sample((ride, map, kind) =>
    {
        var timeline = Pieces.Of(map, (25, Meter.Common));
        var desk = Pieces.Midi(kind: kind);
        var moves = DeskMoves.Of(timeline, Pieces.Plan(1), [ride], desk);
        var smf = LittleSmf.Read(MidiAutomation.Of(moves, timeline, "Night").Bytes.Span);
        var messages = Messages(smf, 1, desk);
        Assert.Equal(moves.Moves.Count, messages.Count);
        foreach (var (move, message) in moves.Moves.Zip(messages))
        {
            Assert.Equal(move.Value, message.Value);
            Assert.Equal(move.At.Value, message.At, 0.0041);
        }
        Assert.True(messages.Zip(messages.Skip(1)).All(pair => pair.Second.At > pair.First.At));
    }, iter: 100);

    [Fact]
    public void A_ride_of_usual_speed_is_followed_to_a_quarter_of_a_decibel()
    {
        var map = new TempoMap([new TempoPiece(Quarters.Zero, 72), new TempoPiece(new Quarters(16), 72, 60), new TempoPiece(new Quarters(24), 60)]);
        var timeline = Pieces.Of(map, (8, Meter.Common));
        var ride = Pieces.Ride(1, (0, null), (2, -20), (8, -20), (9, -1), (16, -30), (24, null), (28, null), (30, -12), (32, -12));
        var desk = Pieces.Midi();
        var smf = LittleSmf.Read(MidiAutomation.Of(DeskMoves.Of(timeline, Pieces.Plan(1), [ride], desk), timeline, "Night").Bytes.Span);
        var (worst, wrongOff) = Replay.Compare(ride, map, 0.038, [.. Messages(smf, 1, desk).Select(m => (m.At, desk.Fader.Law.ToGain(m.Value)?.Value))], 0.002);
        Assert.True(worst <= 0.25, $"{worst}");
        Assert.Null(wrongOff);
    }

    //  written  1  2  3        played  1  2  1  2  3
    //              C                      C     C
    [Fact]
    public void Letters_are_markers_on_every_pass_and_meters_stand_at_their_changes()
    {
        var three = Meter.Simple(3, 4);
        PlayedBar[] bars =
        [
            Pieces.Bar(1, 1, 1, Meter.Common, new Quarters(0), new Quarters(4)), Pieces.Bar(2, 2, 1, three, new Quarters(4), new Quarters(3)),
            Pieces.Bar(3, 1, 2, Meter.Common, new Quarters(7), new Quarters(4)), Pieces.Bar(4, 2, 2, three, new Quarters(11), new Quarters(3)),
            Pieces.Bar(5, 3, 1, Meter.Simple(6, 8), new Quarters(14), new Quarters(3)),
        ];
        var timeline = new Timeline(bars, [new PlayedLetter("C", 2), new PlayedLetter("Ende gut – é", 5)], Pieces.Steady());
        var track = LittleSmf.Read(File(timeline, "Die Fähre").Bytes.Span).Tracks[0];
        Assert.Equal("Die Fähre", Assert.Single(track, e => e.IsMeta(0x03)).Text);
        Assert.Equal([(4 * 960L, "C"), (11 * 960L, "C (2nd)"), (14 * 960L, "Ende gut – é")], track.Where(e => e.IsMeta(0x06)).Select(e => (e.Tick, e.Text)));
        Assert.Equal(["0: 4/2^2 24", "3840: 3/2^2 24", "6720: 4/2^2 24", "10560: 3/2^2 24", "13440: 6/2^3 36"],
            track.Where(e => e.IsMeta(0x58)).Select(e => $"{e.Tick}: {e.Data[1]}/2^{e.Data[2]} {e.Data[3]}"));
        Assert.All(track.Where(e => e.IsMeta(0x58)), e => Assert.Equal(8, e.Data[4]));
    }

    [Fact]
    public void A_meter_that_the_file_cannot_say_is_noted_and_bar_lines_stay_in_place()
    {
        var additive = new Meter("3+2/8", [.. Enumerable.Repeat(new Quarters(1, 2), 5)]);
        var mixed = new Meter("2/4+3/8", [new Quarters(1), new Quarters(1), new Quarters(1, 2), new Quarters(1, 2), new Quarters(1, 2)]);
        var odd = new Meter("2/3", [new Quarters(4, 3), new Quarters(4, 3)]);
        var free = new Meter("free", []);
        PlayedBar[] bars =
        [
            Pieces.Bar(1, 1, 1, Meter.Common, new Quarters(0), new Quarters(1)),
            Pieces.Bar(2, 2, 1, Meter.Common, new Quarters(1), new Quarters(4)),
            Pieces.Bar(3, 3, 1, additive, new Quarters(5), new Quarters(5, 2)),
            Pieces.Bar(4, 4, 1, mixed, new Quarters(15, 2), new Quarters(7, 2)),
            Pieces.Bar(5, 5, 1, odd, new Quarters(11), new Quarters(8, 3)),
            Pieces.Bar(6, 6, 1, free, new Quarters(41, 3), new Quarters(7)),
        ];
        var file = File(new Timeline(bars, [], Pieces.Steady()));
        Assert.Equal(["1/2^2", "4/2^2", "5/2^3", "7/2^3", "43/2^6", "7/2^2"],
            LittleSmf.Read(file.Bytes.Span).Tracks[0].Where(e => e.IsMeta(0x58)).Select(e => $"{e.Data[1]}/2^{e.Data[2]}"));
        Assert.Equal(
        [
            "bar 3: 3+2/8 is written as 5/8, without its groups",
            "bar 4: 2/4+3/8 is written as 7/8",
            "bar 5: 2/3 over 8/3 quarters is written as 43/64, the nearest that a Standard MIDI File can say",
        ], file.Notes);
    }

    [Fact]
    public void A_tempo_slower_than_the_file_can_say_is_noted() =>
        Assert.StartsWith("3: the tempo is slower", Assert.Single(File(Pieces.Of(new TempoMap([new TempoPiece(Quarters.Zero, 60), new TempoPiece(new Quarters(8), 3),
            new TempoPiece(new Quarters(9), 60)]), (4, Meter.Common))).Notes), StringComparison.Ordinal);

    // Derived: a tick is never longer than 2 ms, so slow pieces get finer ones.
    [Theory, InlineData(120, 960), InlineData(32, 960), InlineData(30, 1920), InlineData(12, 3840)]
    public void A_tick_is_never_longer_than_two_milliseconds(double tempo, int ticks) =>
        Assert.Equal(ticks, LittleSmf.Read(File(Pieces.Of(Pieces.Steady(tempo), (4, Meter.Common))).Bytes.Span).TicksPerQuarter);

    // The library that writes must also read: strict, so paired notes and one end a track.
    [Fact]
    public void The_library_reads_the_file_back()
    {
        var timeline = Pieces.Of(Pieces.Steady(), (8, Meter.Common));
        var moves = DeskMoves.Of(timeline, Pieces.Plan(2), [Pieces.Ride(1, (0, -20), (32, 0)), Pieces.Ride(2, (0, null), (32, null))], Pieces.Midi());
        using var stream = new MemoryStream(MidiAutomation.Of(moves, timeline, "Night").Bytes.ToArray());
        var file = new MidiFile(stream, strictChecking: true);
        Assert.Equal((1, 3, 960), (file.FileFormat, file.Tracks, file.DeltaTicksPerQuarterNote));
        Assert.Equal(["Night", "north.s1", "north.s2"], file.Events.Select(track => track.OfType<TextEvent>().First().Text));
        var changes = file.Events[1].OfType<ControlChangeEvent>().ToList();
        Assert.Equal(moves.Moves.Count(move => move.Source.Strip == 1) * 2, changes.Count);
        Assert.All(changes.Chunk(2), pair => Assert.Equal((0, 32, pair[0].AbsoluteTime), ((int)pair[0].Controller, (int)pair[1].Controller, pair[1].AbsoluteTime)));
        Assert.Equal([(0, 0)], file.Events[2].OfType<ControlChangeEvent>().Chunk(2).Select(pair => (pair[0].ControllerValue, pair[1].ControllerValue)));
    }

    // The wire's contract, on the file as it stands: 96 strips, all moving.
    [Fact]
    public void No_second_of_the_file_carries_more_than_the_wire()
    {
        var timeline = Pieces.Of(Pieces.Steady(97), (4, Meter.Common));
        var rides = Enumerable.Range(1, 96).Select(i => Pieces.Ride(i, (0, -40), (4, 0), (8, null), (12, 0), (16, -30))).ToList();
        var file = MidiAutomation.Of(DeskMoves.Of(timeline, Pieces.Plan(96), rides, Pieces.Midi()), timeline, "");
        var smf = LittleSmf.Read(file.Bytes.Span);
        var times = smf.Tracks.Skip(1).SelectMany(track => track.Where(e => e.Status is >= 0x80 and < 0xF0)).Select(e => smf.SecondsAt(e.Tick)).Order().ToList();
        for (int i = 0, first = 0; i < times.Count; i++)
        {
            while (times[first] <= times[i] - 1) first++;
            Assert.True((i - first + 1) * 3 <= 3125, $"{(i - first + 1) * 3} bytes in the second before {times[i]}");
        }
        Assert.InRange(file.PeakBytes, 2800, 3125);
    }

    [Fact]
    public void Moves_for_osc_are_a_bad_call()
    {
        var timeline = Pieces.Of(Pieces.Steady(), (1, Meter.Common));
        Assert.Throws<ArgumentException>(() => MidiAutomation.Of(DeskMoves.Of(timeline, Pieces.Plan(1), [], Pieces.Osc()), timeline, ""));
    }

    private static MidiAutomation File(Timeline timeline, string title = "Night") =>
        MidiAutomation.Of(DeskMoves.Of(timeline, Pieces.Plan(1), [], Pieces.Midi()), timeline, title);

    /// <summary>The values that a desk would take from a track, by its own reading of the messages.</summary>
    private static List<(double At, double Value)> Messages(LittleSmf smf, int track, DeskMap desk)
    {
        var address = ((MidiControl)desk.Fader.Control).At(1);
        var found = new List<(double, double)>();
        int parameter = 0, high = 0;
        foreach (var e in smf.Tracks[track].Where(e => e.Status is >= 0x80 and < 0xF0))
        {
            Assert.Equal(address.Channel, (e.Status & 15) + 1);
            var at = smf.SecondsAt(e.Tick);
            if (address.Target == MidiTarget.PitchBend)
            {
                Assert.Equal(0xE0, e.Status & 0xF0);
                found.Add((at, e.Data[0] | (e.Data[1] << 7)));
                continue;
            }
            Assert.Equal(0xB0, e.Status & 0xF0);
            var (coarse, fine) = address.Target == MidiTarget.Nrpn ? (6, 38) : (address.Number, address.Number + 32);
            if (e.Data[0] == 99) parameter = e.Data[1] << 7;
            else if (e.Data[0] == 98) parameter |= e.Data[1];
            else if (e.Data[0] == coarse) high = e.Data[1];
            else if (e.Data[0] == fine)
            {
                if (address.Target == MidiTarget.Nrpn) Assert.Equal(address.Number, parameter);
                found.Add((at, (high << 7) | e.Data[1]));
            }
        }
        return found;
    }
}
