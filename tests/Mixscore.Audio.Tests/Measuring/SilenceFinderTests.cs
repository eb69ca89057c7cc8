using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class SilenceFinderTests
{
    // Law: to the frame, whatever the blocks. Brute force: a silence is a run of small samples of 50 ms or more.
    [Fact]
    public void Silences_are_found_to_the_frame_in_blocks_of_any_size() =>
        Gen.Select(Gen.Int[1, 5000].Array[1, 9], Gen.Int[1, 6000], Gen.Int[1, 3]).Sample((runs, block, channels) =>
        {
            var noise = new SeededNoise((ulong)runs.Length);
            var samples = runs.SelectMany((length, i) => Enumerable.Range(0, length * channels)
                .Select(_ => i % 2 == 0 ? (0.15f + 0.1f * noise.Even()) : 2e-5f * noise.Even())).ToArray();
            var finder = new SilenceFinder(new SoundFormat(48_000, channels));
            for (var at = 0; at < samples.Length; at += block * channels) finder.Push(samples.AsSpan(at, Math.Min(block * channels, samples.Length - at)));
            // Others that hear two overlapping parts of it.
            var (frames, parts) = (samples.Length / channels, new List<SilenceFinder>());
            foreach (var (from, to) in new[] { (frames / 3, frames), (0, Math.Min(frames, frames / 3 + 2000)) })
            {
                parts.Add(new SilenceFinder(new SoundFormat(48_000, channels), from));
                for (var at = from; at < to; at += block) parts[^1].Push(samples.AsSpan(at * channels, Math.Min(block, to - at) * channels));
            }
            var expected = new List<(double, double)>();
            var start = 0;
            for (var i = 0; i < runs.Length; start += runs[i++])
                if (i % 2 == 1 && runs[i] >= 2400) expected.Add((start / 48_000.0, (start + runs[i]) / 48_000.0));
            Assert.Equal(SilenceFinder.Finish(finder), SilenceFinder.Finish(parts));
            Assert.Equal(expected, SilenceFinder.Finish(finder).Select(stretch => (stretch.From.Value, stretch.To.Value)));
        }, iter: 100);
}
