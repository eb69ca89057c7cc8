using CsCheck;

namespace Mixscore.Loudness.Tests.Filter;

public class SlidingSumTests
{
    // Brute force: each sum taken afresh. Values of very different size, so that any subtraction would show.
    [Fact]
    public void It_is_the_sum_of_the_last_so_many() =>
        Gen.Select(Gen.Int[1, 9], Gen.Double[-12, 12].Array[1, 60]).Sample((length, exponents) =>
        {
            double[] values = [.. exponents.Select(exponent => Math.Pow(10, exponent))];
            var sliding = new SlidingSum(length);
            for (var i = 0; i < values.Length; i++)
                Assert.Equal(1, sliding.Add(values[i]) / values[Math.Max(0, i + 1 - length)..(i + 1)].Sum(), 1e-14);
        });

    [Fact]
    public void Silence_after_sound_is_0()
    {
        var sliding = new SlidingSum(5);
        for (var i = 0; i < 12; i++) sliding.Add(0.1 * i);
        for (var i = 0; i < 4; i++) Assert.True(sliding.Add(0) > 0);
        for (var i = 0; i < 20; i++) Assert.Equal(0, sliding.Add(0));
    }
}
