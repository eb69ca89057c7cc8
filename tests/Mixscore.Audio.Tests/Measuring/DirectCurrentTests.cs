using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class DirectCurrentTests
{
    // Brute force: the plain mean, of the channel that is furthest off; in blocks of any size, and in parts that overlap by 0.2 s.
    [Fact]
    public void It_is_the_mean_of_the_channel_that_stands_off_most() =>
        Gen.Select(Gen.Double[-0.3, 0.3].Array[1, 3], Gen.Int[1, 60_000], Gen.Int[1, 6000], Gen.Double[0, 1]).Sample((offsets, frames, block, cut) =>
        {
            var (noise, channels) = (new SeededNoise(7), offsets.Length);
            float[] samples = [.. Enumerable.Range(0, frames * channels).Select(i => (float)offsets[i % channels] + 0.3f * noise.Even())];
            var expected = Enumerable.Range(0, channels).Max(channel => Math.Abs(samples.Where((_, i) => i % channels == channel).Average(sample => (double)sample)));
            Assert.Equal(expected, DirectCurrent.Finish(frames, Heard(0, frames)), 1e-6);
            // As segments of a sound are heard: cut on a tenth of a second or anywhere.
            var seam = (int)(cut * frames);
            Assert.Equal(expected, DirectCurrent.Finish(frames, Heard(Math.Max(0, seam - 9600), frames), Heard(0, seam)), 1e-6);

            DirectCurrent Heard(int from, int to)
            {
                var finder = new DirectCurrent(new SoundFormat(48_000, channels), frames, from);
                for (var frame = from; frame < to; frame += block) finder.Push(samples.AsSpan(frame * channels, Math.Min(block, to - frame) * channels));
                return finder;
            }
        }, iter: 60);

    [Fact]
    public void No_sound_stands_on_zero() => Assert.Equal(0, DirectCurrent.Finish(0));
}
