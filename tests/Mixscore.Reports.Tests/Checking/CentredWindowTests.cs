using CsCheck;

namespace Mixscore.Reports.Tests.Checking;

public class CentredWindowTests
{
    // Derived: the mean over [t − 1.5 s, t + 1.5 s] of a signal that is constant over each 10 ms hop and silent outside, integrated hop by hop.
    [Fact]
    public void Equals_the_integral_over_three_seconds() =>
        Gen.Double[0, 1].Array[0, 700].Sample(energy =>
        {
            var means = CentredWindow.Mean(energy);
            for (var i = 0; i < energy.Length; i += 7)
            {
                var (from, to) = (i + 0.5 - 150, i + 0.5 + 150);
                var sum = 0.0;
                for (var j = 0; j < energy.Length; j++) sum += energy[j] * Math.Max(0, Math.Min(to, j + 1) - Math.Max(from, j));
                Assert.Equal(sum / 300, means[i], 1e-12);
            }
        }, iter: 60);

    [Fact]
    public void A_constant_signal_is_itself_away_from_its_ends_and_half_at_them()
    {
        var means = CentredWindow.Mean(Enumerable.Repeat(2.0, 1000).ToArray());
        Assert.Equal(2, means[500], 1e-12);
        Assert.Equal(1, means[0], 0.01);
        Assert.Equal(1, means[^1], 0.01);
    }
}
