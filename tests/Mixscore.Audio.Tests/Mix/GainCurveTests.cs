using CsCheck;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Mix;

public sealed class GainCurveTests
{
    private static readonly Gen<(double Quarters, double Decibels)[]> Vertices =
        Gen.Select(Gen.Double[0.02, 3], Gen.OneOf(Gen.Double[-60, 10], Gen.Const(double.NaN))).Array[2, 8].Select(steps =>
        {
            var at = 0.0;
            return steps.Select((step, i) => (at = i == 0 ? 0 : at + Math.Ceiling(step.Item1 * 960) / 960, step.Item2)).ToArray();
        });

    // Law: at every frame within 0.01 dB of the ride itself, through steep moves, tempo changes and delays.
    [Fact]
    public void Every_gain_is_the_rides_to_a_hundredth_of_a_decibel() =>
        Gen.Select(Vertices, Gen.Double[0, 0.5], Gen.Double[40, 200], Gen.Double[40, 200]).Sample((vertices, delay, first, second) =>
        {
            var ride = Piece.Ride(vertices);
            var tempo = new TempoMap([new TempoPiece(Quarters.Zero, first, second), new TempoPiece(new Quarters(6), second)]);
            var gains = new float[60_000];
            new GainCurve(ride, tempo, new Seconds(delay), 8000).Fill(0, gains);
            for (var i = 0; i < gains.Length; i += 7)
            {
                var quarters = tempo.QuartersAt(new Seconds(i / 8000.0 - delay));
                if (ride.Vertices.Any(vertex => Math.Abs(vertex.At.ToDouble() - quarters) < 1e-6)) continue;
                if (ride.At(quarters) is { } wanted) Assert.InRange(20 * Math.Log10(gains[i]) - wanted.Value, -0.01, 0.01);
                else Assert.Equal(0, gains[i]);
            }
        }, iter: 60);

    // Law: cutting the frames into other blocks gives the same bits.
    [Fact]
    public void Blocks_of_any_size_give_the_same_gains() =>
        Gen.Select(Vertices, Gen.Int[1, 3000]).Sample((vertices, block) =>
        {
            var curve = new GainCurve(Piece.Ride(vertices), new TempoMap([new TempoPiece(Quarters.Zero, 90)]), new Seconds(0.1), 8000);
            var (whole, parts) = (new float[20_000], new float[20_000]);
            curve.Fill(-100, whole);
            for (var at = 0; at < parts.Length; at += block) curve.Fill(at - 100, parts.AsSpan(at, Math.Min(block, parts.Length - at)));
            Assert.Equal(whole, parts);
        }, iter: 60);
}
