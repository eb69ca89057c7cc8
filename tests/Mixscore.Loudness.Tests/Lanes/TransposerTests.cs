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
            for (var lane = 0; lane < lanes.Length; lane++) lanes[lane].Load(Programmes.Noise(count, 1, seed: lane), 1, count);
            float[] quick = new float[LaneBank.MostFrames * LaneFilter.Width], plain = new float[quick.Length];
            Transposer.Transpose(lanes, count, quick);
            Transposer.TransposePlain(lanes, count, plain);
            Assert.Equal(plain[..(count * LaneFilter.Width)], quick[..(count * LaneFilter.Width)]);
            for (var lane = 0; lane < lanes.Length; lane++)
                for (var i = 0; i < count; i++) Assert.Equal(lanes[lane].Fresh[i], plain[i * LaneFilter.Width + lane]);
        }
    }
}
