using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Audio.Tests.Measuring.Bursts;

public sealed class HissTrackTests
{
    // Law: the same bits whatever the blocks, and heard in overlapping parts or in one. Brute force by the definition.
    [Fact]
    public void Hops_are_the_same_in_blocks_and_parts_of_any_size() =>
        Gen.Select(Gen.OneOf(Gen.Const(32_000), Gen.Const(44_100), Gen.Const(48_000), Gen.Const(96_000), Gen.Const(192_000)), Gen.Int[1, 6], Gen.Int[0, 5000], Gen.Int[1, 1500], Gen.Int[0, 4000])
            .Sample((rate, channels, frames, block, cut) =>
            {
                var format = new SoundFormat(rate, channels);
                var noise = new SeededNoise((ulong)frames);
                var samples = Enumerable.Range(0, frames * channels).Select(_ => noise.Even()).ToArray();
                var whole = HissTrack.Finish(format, frames, Heard(0, frames));
                var (hop, heard, lag) = (rate / 400, (rate / 400 - (int)Math.Round(rate / 48_000.0)) / 16 * 16, (int)Math.Round(rate / 48_000.0));
                Assert.Equal(frames / hop, whole.Length);
                for (var i = 0; i < whole.Length; i++)
                    Assert.Equal(Enumerable.Range(((i + 1) * hop - heard) * channels, heard * channels).Average(at => Math.Pow(samples[at] - samples[at - lag * channels], 2)), whole[i], 1e-5);
                var first = Math.Min(frames, cut + rate / 5);
                Assert.Equal(whole, HissTrack.Finish(format, frames, Heard(Math.Min(cut, frames), frames), Heard(0, first)));

                HissTrack Heard(int from, int to)
                {
                    var track = new HissTrack(format, from);
                    for (var frame = from; frame < to; frame += block) track.Push(samples.AsSpan(frame * channels, Math.Min(block, to - frame) * channels));
                    return track;
                }
            }, iter: 200);

    [Fact]
    public void White_noise_is_doubled_and_a_low_tone_all_but_taken_away()
    {
        var noise = new SeededNoise(1);
        Assert.InRange(Hiss([.. Enumerable.Range(0, 48_000).Select(_ => noise.Even())]), 1.9 / 3, 2.1 / 3);
        Assert.InRange(Hiss(Sound.Tone(200, 1, 1)), 0.0, 0.0005);

        static double Hiss(float[] sound)
        {
            var track = new HissTrack(new SoundFormat(48_000, 1));
            track.Push(sound);
            return HissTrack.Finish(new SoundFormat(48_000, 1), sound.Length, track).Average();
        }
    }
}
