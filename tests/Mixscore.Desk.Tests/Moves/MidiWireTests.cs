using CsCheck;
using Mixscore.Planning;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Moves;

public class MidiWireTests
{
    private static readonly Timeline Piece = Pieces.Of(Pieces.Steady(), (8, Meter.Common));

    // Design, section 4: 3,125 bytes in any second, without running status. Every second that ends with a message.
    [Fact]
    public void No_second_ever_carries_more_than_the_wire() => Gen.Select(Gen.Int[1, 96].SelectMany(n => Sources(n)), Gen.Bool.Select(high => high ? MidiTarget.Nrpn : MidiTarget.Controller)).Sample((rides, kind) =>
    {
        var moves = DeskMoves.Of(Piece, Pieces.Plan(96), rides, Pieces.Midi(kind: kind));
        var size = kind == MidiTarget.Controller ? 6 : 12;
        var times = moves.Moves.Select(move => move.At.Value).ToList();
        for (int last = 0, first = 0; last < times.Count; last++)
        {
            while (times[first] <= times[last] - 1) first++;
            Assert.True((last - first + 1) * size <= 3125);
        }
        Assert.True(moves.PeakBytes <= 3125);
    }, iter: 5);

    // All 96 strips run up and down 40 dB at 20 dB a second: 96 · 50 moves a second are wanted, 520 fit.
    [Fact]
    public void Where_the_wire_is_too_narrow_the_error_is_shared_and_every_fader_arrives()
    {
        var rides = Enumerable.Range(1, 96).Select(i => Pieces.Ride(i, (0, -40), (4, 0), (8, -40), (12, 0), (16, -30), (32, -30))).ToList();
        var moves = DeskMoves.Of(Piece, Pieces.Plan(96), rides, Pieces.Midi());
        Assert.All(moves.Sources, source => Assert.InRange(source.Worst.Value, 2, 8));
        Assert.All(moves.Sources, source => Assert.True(source.LeftOut > 0));
        Assert.InRange(moves.PeakBytes, 2900, 3125);
        foreach (var (ride, i) in rides.Select((ride, i) => (ride, i)))
        {
            var messages = Replay.Of(moves, ride.Source);
            Assert.Equal(-30, messages[^1].Gain!.Value, 0.01);
            Assert.True(messages[^1].At < 8.038 + 1);
            Assert.True(Replay.Compare(ride, Piece.Tempo, 0.038, messages, 1).Worst <= moves.Sources[i].Worst.Value + 1e-6);
        }
    }

    // Derived: what fits is not touched, though it all comes at one instant.
    [Fact]
    public void A_wire_with_room_for_all_leaves_nothing_out()
    {
        var rides = Enumerable.Range(1, 96).Select(i => Pieces.Ride(i, (0, -20), (8, -20), (9, -21), (32, -21))).ToList();
        var moves = DeskMoves.Of(Piece, Pieces.Plan(96), rides, Pieces.Midi());
        Assert.All(moves.Sources, source => Assert.Equal((0, true), (source.LeftOut, source.Worst.Value <= 0.25)));
    }

    [Fact]
    public void A_peak_is_the_most_in_any_second() => Gen.Select(Gen.Double[0, 4], Gen.Int[1, 12]).List[0, 40].Sample(list =>
    {
        var sent = list.Select(one => (At: one.Item1, Bytes: one.Item2)).OrderBy(one => one.At).ToList();
        var brute = sent.Count == 0 ? 0 : sent.Max(last => sent.Where(one => one.At <= last.At && one.At > last.At - 1).Sum(one => one.Bytes));
        Assert.Equal(brute, MidiWire.Peak(sent));
    });

    private static Gen<List<Ride>> Sources(int count) => Enumerable.Range(1, count).Select(i => Pieces.Rides(i, 32))
        .Aggregate(Gen.Const(new List<Ride>()), (all, one) => Gen.Select(all, one, (rides, ride) => (List<Ride>)[.. rides, ride]));
}
