using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using CsCheck;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Files;

public class OscAutomationTests
{
    private static readonly TempoMap Bent = new([new TempoPiece(Quarters.Zero, 120), new TempoPiece(new Quarters(8), 120, 60), new TempoPiece(new Quarters(16), 90)]);

    private static readonly Timeline Piece = Pieces.Of(Bent, (6, Meter.Common));

    // Design, section 3, contracts: int32 length, bundle, 32.32 time tag from the start of the piece. Read by hand from OSC 1.0.
    [Fact]
    public void A_desk_that_plays_the_stream_follows_the_rides() => Gen.Select(Pieces.Rides(1, 24), Pieces.Rides(2, 24)).Sample((first, second) =>
    {
        var map = Pieces.Osc();
        var stream = ReadStream(OscAutomation.Stream(DeskMoves.Of(Piece, Pieces.Plan(2), [first, second], map)));
        foreach (var (ride, strip) in ((Planning.Ride, int)[])[(first, 1), (second, 2)])
        {
            var messages = stream.SelectMany(bundle => bundle.Messages.Where(m => m.Address == $"/strip/{strip}/fader").Select(m => (bundle.At, map.Fader.Law.ToGain(m.Value)?.Value)));
            var (worst, wrongOff) = Replay.Compare(ride, Bent, 0.038, [.. messages], 2e-6);
            Assert.True(worst <= 0.25, $"{worst}");
            Assert.Null(wrongOff);
        }
        Assert.True(stream.Zip(stream.Skip(1)).All(pair => pair.Second.At > pair.First.At));
    }, iter: 50);

    [Fact]
    public void The_text_holds_the_same_messages_as_the_stream() => Pieces.Rides(1, 24).Sample(ride =>
    {
        var moves = DeskMoves.Of(Piece, Pieces.Plan(3), [ride, Pieces.Ride(3, (0, -3), (24, -9))], Pieces.Osc());
        var lines = OscAutomation.Text(moves).Split('\n')[..^1].Select(line => line.Split('\t')).ToList();
        var messages = ReadStream(OscAutomation.Stream(moves)).SelectMany(bundle => bundle.Messages.Select(m => (bundle.At, m.Address, m.Value))).ToList();
        Assert.Equal(moves.Moves.Count, messages.Count);
        Assert.Equal(lines.Count, messages.Count);
        foreach (var (line, message) in lines.Zip(messages))
        {
            Assert.Equal(4, line.Length);
            Assert.Matches("^[0-9]+\\.[0-9]{6}$", line[0]);
            Assert.Equal(double.Parse(line[0], CultureInfo.InvariantCulture), message.At, 1e-9);
            Assert.Equal((message.Address, ",f", message.Value), (line[1], line[2], float.Parse(line[3], CultureInfo.InvariantCulture)));
        }
    }, iter: 50);

    //  quarter   0    1    2    3    4       at 120 quarters a minute, no delay
    //  north.s1  0 dB ----------------
    //  north.s2  off --------- -60 --- off
    [Fact]
    public void A_small_file_is_this_file()
    {
        var moves = DeskMoves.Of(Pieces.Of(Pieces.Steady(), (1, Meter.Common)), Pieces.Plan(2, delayMs: 0),
            [Pieces.Ride(1, (0, 0), (4, 0)), Pieces.Ride(2, (0, null), (2, null), (3, -60), (4, null))], Pieces.Osc());
        Assert.Equal("0.000000\t/strip/1/fader\t,f\t0.75\n0.000000\t/strip/2/fader\t,f\t0\n1.000001\t/strip/2/fader\t,f\t0.05\n2.000000\t/strip/2/fader\t,f\t0\n", OscAutomation.Text(moves));
        var bytes = OscAutomation.Stream(moves);
        // Put together by hand from OSC 1.0: lengths, "#bundle", seconds and fractions, then length, address, tags and number.
        Assert.Equal(
            "000000482362756e646c65000000000000000000000000182f73747269702f312f666164657200002c6600003f400000000000182f73747269702f322f666164657200002c66000000000000"
                + "0000002c2362756e646c650000000001000010c7000000182f73747269702f322f666164657200002c6600003d4ccccd"
                + "0000002c2362756e646c65000000000200000000000000182f73747269702f322f666164657200002c66000000000000", Convert.ToHexStringLower(OscAutomation.Stream(moves)));
    }

    [Fact]
    public void Moves_for_midi_are_a_bad_call()
    {
        var moves = DeskMoves.Of(Piece, Pieces.Plan(1), [], Pieces.Midi());
        Assert.Throws<ArgumentException>(() => OscAutomation.Stream(moves));
        Assert.Throws<ArgumentException>(() => OscAutomation.Text(moves));
    }

    private static List<(double At, List<(string Address, float Value)> Messages)> ReadStream(ReadOnlySpan<byte> stream)
    {
        var bundles = new List<(double, List<(string, float)>)>();
        while (!stream.IsEmpty)
        {
            var length = BinaryPrimitives.ReadInt32BigEndian(stream);
            var bundle = stream.Slice(4, length);
            stream = stream[(4 + length)..];
            Assert.Equal("#bundle\0", Encoding.ASCII.GetString(bundle[..8]));
            var at = BinaryPrimitives.ReadUInt32BigEndian(bundle[8..]) + BinaryPrimitives.ReadUInt32BigEndian(bundle[12..]) / 4294967296.0;
            var messages = new List<(string, float)>();
            for (var rest = bundle[16..]; !rest.IsEmpty;)
            {
                var size = BinaryPrimitives.ReadInt32BigEndian(rest);
                var message = rest.Slice(4, size);
                rest = rest[(4 + size)..];
                var end = message.IndexOf((byte)0);
                var tags = (end / 4 + 1) * 4;
                Assert.Equal(",f\0\0", Encoding.ASCII.GetString(message.Slice(tags, 4)));
                messages.Add((Encoding.ASCII.GetString(message[..end]), BinaryPrimitives.ReadSingleBigEndian(message[(tags + 4)..])));
            }
            bundles.Add((at, messages));
        }
        return bundles;
    }
}
