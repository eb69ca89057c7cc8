namespace Mixscore.Audio.Tests.Stems;

public sealed class SeededNoiseTests
{
    // The first outputs of SplitMix64 from seed 1234567, as in the published reference code's usual test; from memory, unverified.
    [Fact]
    public void Is_SplitMix64()
    {
        var noise = new SeededNoise(1234567);
        Assert.Equal([6457827717110365317UL, 3203168211198807973UL, 9817491932198370423UL], Enumerable.Range(0, 3).Select(_ => noise.Next()));
    }

    [Fact]
    public void Spreads_as_it_says()
    {
        var noise = new SeededNoise(5);
        var even = Enumerable.Range(0, 100_000).Select(_ => (double)noise.Even()).ToList();
        Assert.InRange(even.Average(), -0.01, 0.01);
        Assert.InRange(even.Average(x => x * x), 0.328, 0.339);    // 1/3
        var normal = Enumerable.Range(0, 100_000).Select(_ => noise.Normal()).ToList();
        Assert.InRange(normal.Average(), -0.01, 0.01);
        Assert.InRange(normal.Average(x => x * x), 0.98, 1.02);
    }
}
