using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Moves;

public class DeskMovesTests
{
    private static readonly TempoMap Bent = new(
        [new TempoPiece(Quarters.Zero, 120), new TempoPiece(new Quarters(8), 120, 60), new TempoPiece(new Quarters(16), 200), new TempoPiece(new Quarters(20), 90)]);

    private const double Fastest = 200;   // quarters a minute, in the map above

    /// <summary>The most that a ride moves in a second, at the fastest tempo of the map.</summary>
    private static double Steepest(Ride ride) =>
        ride.Vertices.Zip(ride.Vertices.Skip(1), (a, b) => Math.Abs((b.Gain?.Value ?? -60) - (a.Gain?.Value ?? -60)) / (b.At - a.At).ToDouble()).Max() * Fastest / 60;

    // Design, section 4 and the wire's contract: every instant between vertices within 0.25 dB. Derived: off at its vertex, on a microsecond later.
    [Fact]
    public void The_fader_stays_within_a_quarter_of_a_decibel_of_any_ride() => Pieces.Rides(1, 24).Sample(ride =>
    {
        foreach (var map in (DeskMap[])[Pieces.Osc(), Pieces.Midi(), Pieces.Osc(Pieces.Law14)])
        {
            var moves = Made(map, ride);
            var (worst, wrongOff) = Replay.Compare(ride, Bent, 0.038, Replay.Of(moves, "north.s1"), 2e-6);
            Assert.True(worst <= 0.25, $"{map.Protocol}: {worst} dB");
            Assert.Null(wrongOff);
            Assert.Equal(worst, moves.Sources[0].Worst.Value, 0.02);
            Assert.True(moves.Sources[0].Worst.Value >= worst - 1e-6);
        }
    }, iter: 150);

    // Derived: numbers a dB apart allow no less than half a step; moves stand on whole microseconds, in which the ride goes on.
    [Fact]
    public void A_wire_of_seven_bits_is_never_further_off_than_half_a_step() => Pieces.Rides(1, 24).Sample(ride =>
    {
        var moves = Made(Pieces.Midi(Pieces.Law7, bits: 7), ride);
        var (worst, _) = Replay.Compare(ride, Bent, 0.038, Replay.Of(moves, "north.s1"), 2e-6);
        var steepest = Steepest(ride);
        Assert.True(worst <= 0.5 + 1e-6 * steepest + 1e-6, $"{worst} dB at up to {steepest} dB/s");
        Assert.True(moves.Sources[0].Worst.Value >= worst - 1e-6);
    }, iter: 100);

    [Fact]
    public void At_every_vertex_the_value_is_exact_and_only_changes_are_sent() => Pieces.Rides(1, 24).Sample(ride =>
    {
        foreach (var map in (DeskMap[])[Pieces.Osc(), Pieces.Midi(), Pieces.Midi(Pieces.Law7, bits: 7)])
        {
            var moves = Made(map, ride).Moves;
            foreach (var vertex in ride.Vertices)
            {
                var due = Bent.SecondsAt(vertex.At).Value + 0.038;
                var (law, right) = (map.Fader.Law, map.Fader.Law.Sent(vertex.Gain));
                var held = moves.Last(move => move.At.Value <= due + (vertex.Gain is null ? 2e-9 : 0.6e-6)).Value;
                // Derived: halfway between two numbers of a coarse wire the ride, which goes on, is nearer to the other within the same microsecond.
                if (held != right && law == Pieces.Law7 && vertex.Gain is { } gain && law.ToGain(held) is { } other && law.ToGain(right) is { } nearest)
                    Assert.Equal((nearest - gain).Abs().Value, (other - gain).Abs().Value, 2 * Steepest(ride) * 1e-6 + 1e-9);
                else Assert.Equal(right, held);
            }
            for (var i = 1; i < moves.Count; i++)
            {
                Assert.True(moves[i].At > moves[i - 1].At);
                Assert.NotEqual(moves[i].Value, moves[i - 1].Value);
            }
        }
    }, iter: 100);

    // Derived: 40 dB in steps of 0.4 dB.
    [Theory, InlineData(true), InlineData(false)]
    public void A_move_takes_no_more_steps_than_it_needs(bool osc)
    {
        var ride = Pieces.Ride(1, (0, -40), (24, 0));
        var moves = Made(osc ? Pieces.Osc() : Pieces.Midi(), ride);
        Assert.InRange(moves.Moves.Count, 100, osc ? 115 : 103);
    }

    [Fact]
    public void Steps_of_osc_moves_fall_on_ticks_between_vertices()
    {
        var moves = Made(Pieces.Osc(), Pieces.Ride(1, (0, -20), (5, 0), (24, -7))).Moves;
        var vertices = (int[])[0, 5, 24];
        Assert.All(moves, move => Assert.True(
            Math.Abs(move.At.Value / 0.02 - Math.Round(move.At.Value / 0.02)) < 1e-6
                || vertices.Any(v => Math.Abs(Bent.SecondsAt(new Quarters(v)).Value + 0.038 - move.At.Value) < 1e-6), $"{move.At.Value}"));
    }

    //  click  0 s      1 s      2 s      3 s
    //         |--off----|--up----|--off---|     at 120 quarters a minute, 38 ms of link
    [Fact]
    public void Off_holds_up_to_its_vertex_and_comes_at_its_vertex()
    {
        var timeline = Pieces.Of(Pieces.Steady(), (2, Meter.Common));
        var ride = Pieces.Ride(1, (0, null), (2, null), (3, -20), (4, null), (8, null));
        var moves = DeskMoves.Of(timeline, Pieces.Plan(1), [ride], Pieces.Osc()).Moves;
        Assert.Equal((0.0, 0.0), (moves[0].At.Value, moves[0].Value));
        Assert.Equal(1.038001, moves[1].At.Value, 1e-9);
        Assert.Equal(Decibels.Of(-60), moves[1].Gain!.Value);
        Assert.Equal(2.038, moves[^1].At.Value, 1e-9);
        Assert.Null(moves[^1].Gain);
        Assert.Equal(-20, moves.Where(move => move.At.Value <= 1.538).Last().Gain!.Value.Value, 1e-6);
    }

    [Fact]
    public void A_ride_beyond_the_law_is_cut_and_said_to_be()
    {
        var low = new FaderLaw([Pieces.P(-40, 0.1), Pieces.P(0, 1)], 0, WireNumber.Real32);
        var moves = Made(Pieces.Osc(low), Pieces.Ride(1, (0, -50), (8, -10), (24, -50)));
        Assert.Equal("north.s1 asks for -50.0 dB, and below -40.0 dB the desk's fader is off", moves.Sources[0].Note);
        Assert.Null(moves.Moves[0].Gain);
        Assert.Null(moves.Moves[^1].Gain);
        Assert.True(moves.Sources[0].Worst.Value <= 0.25);
        var loud = Made(Pieces.Osc(low), Pieces.Ride(1, (0, -20), (8, 6), (24, -20)));
        Assert.Equal("north.s1 asks for 6.0 dB, and the desk's fader ends at 0.0 dB", loud.Sources[0].Note);
        Assert.Equal(6, loud.Sources[0].Worst.Value, 1e-9);
    }

    [Fact]
    public void A_ride_of_an_unknown_source_is_a_bad_call() =>
        Assert.Throws<ArgumentException>(() => DeskMoves.Of(Pieces.Of(Bent, (6, Meter.Common)), Pieces.Plan(1), [Pieces.Ride(2, (0, 0), (24, 0))], Pieces.Osc()));

    private static DeskMoves Made(DeskMap map, Planning.Ride ride) => DeskMoves.Of(Pieces.Of(Bent, (6, Meter.Common)), Pieces.Plan(1), [ride], map);
}
