using CsCheck;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

/// <summary>What a source is called, and where it stands in the list, decides nothing.</summary>
public sealed class RelabellingTests
{
    /// <summary>A source without its name: levels of five stretches of 16 beats, loudness of each, how far it may stray, and on which earlier ones it leans instead.</summary>
    private sealed record Plain(int[] Levels, int[] Loudness, int Within, int LeansOn);

    private static readonly Gen<Plain> GenPlain = Gen.Select(Gen.Int[-30, 0].Array[5], Gen.Int[-12, 6].Array[5], Gen.Int[1, 4], Gen.Int[0, 7], (levels, loudness, within, leans) => new Plain(levels, loudness, within, leans));

    // Law: renamed and in another order, each source has the same ride and the same widenings.
    [Fact]
    public void Other_names_in_another_order_give_the_same_rides() =>
        Gen.Select(GenPlain.Array[1, 4], Gen.Int[0, 1000]).Sample((plain, seed) =>
        {
            string[] names = [.. plain.Select((_, i) => $"a.{i}")];
            string[] others = [.. plain.Select((_, i) => $"z.{(char)('y' - i)}")];
            int[] order = [.. Enumerable.Range(0, plain.Length)];
            new Random(seed).Shuffle(order);
            var fitted = RideFitter.Fit(Bars, new Limits(), [.. plain.Select((_, i) => Named(plain, i, names))]);
            var again = RideFitter.Fit(Bars, new Limits(), [.. order.Select(i => Named(plain, i, others))]);
            for (var k = 0; k < order.Length; k++)
            {
                var (one, other) = (fitted[order[k]], again[k]);
                Assert.Equal(others[order[k]], other.Source);
                Assert.Equal(one.Ride.Vertices.Select(vertex => (vertex.At, vertex.Gain is null)), other.Ride.Vertices.Select(vertex => (vertex.At, vertex.Gain is null)));
                foreach (var (a, b) in one.Ride.Vertices.Zip(other.Ride.Vertices))
                    if (a.Gain is { } gain) Assert.Equal(gain.Value, b.Gain!.Value.Value, 1e-6);
                Assert.Equal(one.Widened.Select(widened => (widened.From, widened.To)), other.Widened.Select(widened => (widened.From, widened.To)));
            }
        }, iter: 25);

    private static SourceToFit Named(Plain[] plain, int i, string[] names)
    {
        var one = plain[i];
        string[] leans = [.. Enumerable.Range(0, i).Where(k => (one.LeansOn & (1 << k)) != 0).Select(k => names[k])];
        var line = leans.Length > 0
            ? Line(Lean(0, 80, one.Levels[0] / 3, leans))
            : Line([.. one.Levels.Select((level, k) => Held(16 * k, 16 * (k + 1), level))]);
        return Source(line, t => one.Loudness[Math.Clamp((int)(t / 16), 0, 4)], names[i], one.Within);
    }
}
