namespace Mixscore.Loudness.Tests.Lanes;

public class LaneFilterTests
{
    private static readonly LaneKernel[] Kernels = [LaneKernel.Plain, LaneKernel.Fours, LaneKernel.Eights];

    // Law: every kernel, in every lane and at every rate, adds up what the filter of one channel does. Within 1e-12 of the energy.
    [Theory, InlineData(32_000), InlineData(44_100), InlineData(48_000), InlineData(96_000), InlineData(192_000)]
    public void Every_kernel_agrees_with_the_filter_of_one_channel(int rate)
    {
        const int Count = 6000;
        float[][] channels = [.. Enumerable.Range(0, LaneFilter.Width).Select(lane => Programmes.Noise(Count, Math.Pow(10, -lane / 2.0), seed: lane))];
        var frames = new float[Count * LaneFilter.Width];
        for (var i = 0; i < frames.Length; i++) frames[i] = channels[i % LaneFilter.Width][i / LaneFilter.Width];
        foreach (var kernel in Kernels)
        {
            foreach (var used in new[] { 1, 4, 5, 8 })
            {
                var filter = new LaneFilter(rate, kernel);
                filter.AddSquares(frames, used);
                for (var lane = 0; lane < used; lane++)
                    Assert.Equal(1, filter.Sum(lane) / new KFilter(rate).AddSquares(channels[lane], 0), 1e-12);
            }
        }
    }

    // Law: cutting the frames elsewhere gives the same bits.
    [Fact]
    public void Any_cut_gives_the_same_bits()
    {
        var frames = Programmes.Noise(1000 * LaneFilter.Width, 0.5, seed: 1);
        foreach (var kernel in Kernels)
        {
            LaneFilter whole = new(48_000, kernel), cut = new(48_000, kernel);
            whole.AddSquares(frames, LaneFilter.Width);
            for (int at = 0, length = 1; at < 1000; at += length, length = Math.Min(length + 7, 1000 - at))
                cut.AddSquares(frames.AsSpan(at * LaneFilter.Width, length * LaneFilter.Width), LaneFilter.Width);
            for (var lane = 0; lane < LaneFilter.Width; lane++) Assert.Equal(whole.Sum(lane), cut.Sum(lane));
        }
    }

    // A sound that has died away leaves nothing behind: no denormal numbers, on which arithmetic is many times slower.
    [Fact]
    public void After_the_sound_the_filters_come_to_rest()
    {
        foreach (var kernel in Kernels)
        {
            var filter = new LaneFilter(48_000, kernel);
            filter.AddSquares(Programmes.Noise(480 * LaneFilter.Width, 1, seed: 2), LaneFilter.Width);
            for (var hop = 0; hop < 100; hop++)
            {
                filter.EndHop();
                filter.AddSquares(new float[480 * LaneFilter.Width], LaneFilter.Width);
            }
            for (var lane = 0; lane < LaneFilter.Width; lane++) Assert.Equal(0, filter.Sum(lane));
        }
    }
}
