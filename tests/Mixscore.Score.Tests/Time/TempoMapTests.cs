using CsCheck;

namespace Mixscore.Score.Tests;

public sealed class TempoMapTests
{
    private static readonly Gen<TempoMap> Maps =
        from lengths in Gen.Int[1, 64].Array[1, 6]
        from tempi in Gen.Double[10, 400].Array[lengths.Length * 2 + 1]
        from isConstant in Gen.Bool.Array[lengths.Length]
        select Map(lengths, tempi, isConstant);

    private static TempoMap Map(int[] lengths, double[] tempi, bool[] isConstant)
    {
        var pieces = new List<TempoPiece>();
        var at = Quarters.Zero;
        for (var i = 0; i < lengths.Length; i++)
        {
            pieces.Add(new TempoPiece(at, tempi[2 * i], isConstant[i] ? tempi[2 * i] : tempi[2 * i + 1]));
            at += new Quarters(lengths[i], 4);
        }
        pieces.Add(new TempoPiece(at, tempi[^1]));
        return new TempoMap(pieces);
    }

    // The integral of 60 / v(q) by Simpson's rule over 4,000 steps a piece; derived. Its own error is far below the tolerance.
    [Fact]
    public void Seconds_are_the_integral_of_the_tempo() => Maps.Sample(map =>
    {
        var expected = 0.0;
        for (var i = 0; i + 1 < map.Pieces.Count; i++)
        {
            var (piece, length) = (map.Pieces[i], (map.Pieces[i + 1].From - map.Pieces[i].From).ToDouble());
            double Inverse(double part) => 60 / (piece.StartTempo + (piece.EndTempo - piece.StartTempo) * part);
            const int Steps = 4000;
            var sum = Inverse(0) + Inverse(1);
            for (var k = 1; k < Steps; k++) sum += Inverse((double)k / Steps) * (k % 2 == 1 ? 4 : 2);
            expected += sum * length / Steps / 3;
            Assert.Equal(expected, map.SecondsAt(map.Pieces[i + 1].From).Value, 1e-9 * Math.Max(1, expected));
        }
    }, iter: 200, seed: "0000000000001");

    [Fact]
    public void Quarters_and_seconds_are_inverse() => Gen.Select(Maps, Gen.Double[-10, 120]).Sample((map, quarters) =>
        Assert.Equal(quarters, map.QuartersAt(map.SecondsAt(quarters)), 1e-9 * Math.Max(1, Math.Abs(quarters))), iter: 2000, seed: "0000000000001");

    [Fact]
    public void The_tempo_is_straight_over_quarters_within_a_piece()
    {
        var map = Map([8], [60, 120, 90], [false]);   // 2 quarters from 60 to 120, then 90
        Assert.Equal([60, 90, 90, 60], ((double[])[0, 1, 2, -1]).Select(map.TempoAt));
        Assert.Equal(105, map.TempoAt(1.5));
        Assert.Equal(120, map.FastestTempo(0, 5));
        Assert.Equal(90, map.FastestTempo(2, 5));
        Assert.Equal(60 * 2 / 60.0 * Math.Log(2), map.SecondsAt(2.0).Value, 1e-12);
    }

    // A change so small that 1 + x loses its low digits must not differ from a constant tempo by more than that change.
    [Fact]
    public void A_change_too_small_to_see_is_timed_as_a_constant_tempo()
    {
        var map = new TempoMap([new TempoPiece(Quarters.Zero, 120, 120 + 1e-12), new TempoPiece(new Quarters(1000), 120)]);
        Assert.Equal(500, map.SecondsAt(1000.0).Value, 1e-9);
        Assert.Equal(700, map.QuartersAt(new Seconds(350)), 1e-9);
    }

    [Fact]
    public void Pieces_that_make_no_map_are_refused()
    {
        static TempoPiece P(long at, double tempo) => new(new Quarters(at), tempo);
        Assert.Throws<ArgumentException>(() => new TempoMap([]));
        Assert.Throws<ArgumentException>(() => new TempoMap([P(1, 60)]));
        Assert.Throws<ArgumentException>(() => new TempoMap([P(0, 60), P(0, 70)]));
        Assert.Throws<ArgumentException>(() => new TempoMap([P(0, 0)]));
        Assert.Throws<ArgumentException>(() => new TempoMap([P(0, double.NaN)]));
        Assert.Throws<ArgumentException>(() => new TempoMap([new TempoPiece(Quarters.Zero, 60, 70)]));
    }
}
