namespace Mixscore.Loudness.Tests.Filter;

public class HopGridTests
{
    // ITU-R BS.1770-5, Annex 1: a gating block is 400 ms to the nearest sample. Ours differ by one frame at most, where 10 ms is
    // no whole number of frames.
    [Theory, InlineData(32_000), InlineData(44_100), InlineData(48_000)]
    [InlineData(44_056), InlineData(37_813), InlineData(191_999)]
    public void Windows_are_right_to_a_frame_and_never_drift(int rate)
    {
        var grid = new HopGrid(rate);
        for (var hop = 0; hop < 2000; hop++)
        {
            Assert.InRange(grid.Start(hop) - hop * rate / 100.0, -0.5, 0.5);
            Assert.InRange(grid.Frames(hop, hop + 1), 1, grid.LongestHop);
            Assert.InRange(grid.Frames(hop, hop + 40) - 0.4 * rate, -1, 1);
        }
        Assert.Equal(rate * 3600L, grid.Start(360_000));
    }

    [Theory, InlineData(44_100, 441), InlineData(48_000, 480), InlineData(96_000, 960)]
    public void Usual_rates_have_even_hops(int rate, int frames)
    {
        var grid = new HopGrid(rate);
        Assert.All(Enumerable.Range(0, 1000), hop => Assert.Equal(frames, grid.Frames(hop, hop + 1)));
    }
}
