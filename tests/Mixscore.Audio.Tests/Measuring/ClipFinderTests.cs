using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class ClipFinderTests
{
    // Law: to the frame, whatever the blocks, and heard in overlapping parts or in one. Brute force, channel by channel.
    [Fact]
    public void Clipping_is_found_to_the_frame_in_blocks_of_any_size() =>
        Gen.Select(Gen.Select(Gen.Int[1, 6000], Gen.Int[0, 6], Gen.Int[0, 2]).Array[1, 9], Gen.Int[1, 3000], Gen.Int[1, 3]).Sample((turns, block, channels) =>
        {
            var noise = new SeededNoise((ulong)turns.Length);
            var frames = turns.Sum(turn => turn.Item1 + turn.Item2);
            var samples = new float[frames * channels];
            for (var i = 0; i < samples.Length; i++) samples[i] = 0.9f * noise.Even();
            var runs = new List<(long From, long To)>();
            var at = 0;
            foreach (var (length, clipped, channel) in turns)
            {
                at += length;
                for (var i = 0; i < clipped; i++, at++) samples[at * channels + channel % channels] = i % 2 == 0 ? 1 : -1;
                if (clipped >= 3) runs.Add((at - clipped, at));
            }
            var expected = new List<(long From, long To)>();
            foreach (var run in runs)
                if (expected.Count > 0 && run.From - expected[^1].To <= 2400) expected[^1] = (expected[^1].From, run.To);
                else expected.Add(run);
            var whole = Heard(0, frames);
            Assert.Equal(expected.Select(run => (run.From / 48_000.0, run.To / 48_000.0)), ClipFinder.Finish(whole).Select(stretch => (stretch.From.Value, stretch.To.Value)));
            Assert.Equal(ClipFinder.Finish(whole), ClipFinder.Finish(Heard(frames / 3, frames), Heard(0, Math.Min(frames, frames / 3 + 2000))));

            ClipFinder Heard(int from, int to)
            {
                var finder = new ClipFinder(new SoundFormat(48_000, channels), from);
                for (var frame = from; frame < to; frame += block) finder.Push(samples.AsSpan(frame * channels, Math.Min(block, to - frame) * channels));
                return finder;
            }
        }, iter: 100);

    // The largest positive sample of 16 bits is a step under full scale.
    [Theory, InlineData(32767f / 32768, 1), InlineData(1.5f, 1), InlineData(-1f, 1), InlineData(32766f / 32768, 0)]
    public void Full_scale_is_that_of_16_bits(float sample, int found)
    {
        var finder = new ClipFinder(default);
        finder.Push([0, sample, sample, sample, 0]);
        Assert.Equal(found, ClipFinder.Finish(finder).Length);
        Assert.Empty(ClipFinder.Finish());
    }
}
