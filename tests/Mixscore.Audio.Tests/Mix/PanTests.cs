using CsCheck;

namespace Mixscore.Audio.Tests.Mix;

public sealed class PanTests
{
    // Law: the power stays, wherever the pan stands.
    [Fact]
    public void The_power_is_the_same_everywhere() =>
        Gen.Double[-1, 1].Sample(position => Assert.Equal(1, Math.Pow(Pan.Of(position).Left, 2) + Math.Pow(Pan.Of(position).Right, 2), 1e-12));

    [Fact]
    public void The_ends_leave_the_other_side_empty()
    {
        Assert.Equal((1.0, 0.0), (Pan.Of(-1).Left, Pan.Of(-1).Right));
        Assert.Equal((0.0, 1.0), (Pan.Of(1).Left, Pan.Of(1).Right));
        Assert.Equal(Math.Sqrt(0.5), Pan.Centre.Left, 1e-12);
    }

    [Fact]
    public void Sites_spread_from_left_to_right()
    {
        Assert.Equal(0, Pan.OfSite(0, 1).Position);
        Assert.Equal([-0.7, 0, 0.7], Enumerable.Range(0, 3).Select(site => Pan.OfSite(site, 3).Position));
        Assert.Throws<ArgumentOutOfRangeException>(() => Pan.OfSite(3, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => Pan.Of(1.01));
    }
}
