namespace Mixscore.Loudness.Tests.Lanes;

public class TransposerTests
{
    // Brute force: the quick way and the plain one put every sample in its place, whatever the length.
    [Fact]
    public void Frames_hold_the_lanes_side_by_side()
    {
        for (var count = 1; count <= 70; count++)
        {
            Lane[] lanes = [.. Enumerable.Range(0, LaneFilter.Width).Select(_ => new Lane(LaneBank.MostFrames))];
            for (var lane = 0; lane < lanes.Length; lane++) lanes[lane].Take(Programmes.Noise(count, 1, seed: lane), 1, count);
            float[] quick = new float[LaneBank.MostFrames * LaneFilter.Width], plain = new float[quick.Length];
            var sizes = Transposer.Transpose(lanes, count, quick);
            Assert.Equal(Transposer.TransposePlain(lanes, count, plain), sizes);
            for (var lane = 0; lane < lanes.Length; lane++) Assert.Equal(SampleSize.Largest(lanes[lane].Fresh), sizes.Peaks[lane]);
            Assert.Equal(plain[..(count * LaneFilter.Width)], quick[..(count * LaneFilter.Width)]);
            for (var lane = 0; lane < lanes.Length; lane++)
                for (var i = 0; i < count; i++) Assert.Equal(lanes[lane].Fresh[i], plain[i * LaneFilter.Width + lane]);
        }
    }

    // Each sample that is not heard as it is shows in the sizes, wherever it lies, and no other does.
    [Theory]
    [InlineData(0f, true), InlineData(1e-25f, true), InlineData(-1e12f, true), InlineData(-1f, true)]
    [InlineData(9.9e-26f, false), InlineData(-float.Epsilon, false), InlineData(1.1e12f, false), InlineData(float.NegativeInfinity, false)]
    [InlineData(float.NaN, false)]
    public void Sizes_tell_whether_samples_are_clean(float sample, bool clean)
    {
        Assert.Equal(clean, SampleBits.AreClean(BitConverter.SingleToInt32Bits(sample) & SampleBits.Size));
        for (var at = 0; at < 21 * LaneFilter.Width; at++)
        {
            Lane[] lanes = [.. Enumerable.Range(0, LaneFilter.Width).Select(_ => new Lane(LaneBank.MostFrames))];
            for (var lane = 0; lane < lanes.Length; lane++)
            {
                var samples = Programmes.Noise(21, 1, seed: lane);
                if (at / 21 == lane) samples[at % 21] = sample;
                lanes[lane].Take(samples, 1, 21);
            }
            var frames = new float[LaneBank.MostFrames * LaneFilter.Width];
            Assert.Equal(clean, Transposer.Transpose(lanes, 21, frames).AreClean);
            Assert.Equal(clean, Transposer.TransposePlain(lanes, 21, frames).AreClean);
        }
    }
}
