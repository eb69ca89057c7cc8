using CsCheck;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Ltc;

public sealed class LtcReaderTests
{
    // Law: what is written is heard, from the second frame at the latest, at every rate, in blocks of any size.
    [Theory]
    [InlineData(TimecodeRate.Frames24, 48000)]
    [InlineData(TimecodeRate.Frames25, 44100)]
    [InlineData(TimecodeRate.Frames30Drop, 48000)]
    [InlineData(TimecodeRate.Frames30, 96000)]
    [InlineData(TimecodeRate.Frames30, 32000)]
    public void What_is_written_is_heard(TimecodeRate rate, int sampleRate) =>
        Gen.Select(Gen.Long[0, 2_000_000], Gen.Int[1, 3000]).Sample((index, block) =>
        {
            var start = Timecode.FromIndex(rate, index);
            var heard = Hear(new LtcReader(sampleRate), Write(start, sampleRate, frames: 6), block);
            Assert.InRange(heard.Count, 4, 6);
            foreach (var reading in heard)
            {
                var frame = Math.Round(reading.From * Timecode.FramesPerSecond(rate) / sampleRate);
                Assert.Equal(start.Plus((long)frame), reading.Label);
                // An edge lies on the nearest sample, and its crossing half a sample before it.
                var exact = frame * sampleRate / Timecode.FramesPerSecond(rate);
                Assert.InRange(reading.From - exact, -1.01, 1.01);
                Assert.False(reading.IsBackwards);
            }
        }, iter: 12);

    [Fact]
    public void Backwards_is_heard_as_backwards()
    {
        var start = new Timecode(TimecodeRate.Frames25, 10, 0, 0, 0);
        var samples = Write(start, 48000, frames: 8);
        Array.Reverse(samples);
        var heard = Hear(new LtcReader(48000), samples, 480);
        Assert.InRange(heard.Count, 6, 8);
        Assert.All(heard, reading => Assert.True(reading.IsBackwards));
        Assert.Equal(heard.Select(reading => reading.Label.Index).OrderDescending(), heard.Select(reading => reading.Label.Index));
        Assert.Equal(1, heard[^1].Label.Frames);
    }

    // The tape at other speeds, with the rate told: the same labels.
    [Theory]
    [InlineData(TimecodeRate.Frames24, 0.5)]
    [InlineData(TimecodeRate.Frames30, 0.5)]
    [InlineData(TimecodeRate.Frames25, 0.9)]
    [InlineData(TimecodeRate.Frames25, 1.1)]
    [InlineData(TimecodeRate.Frames24, 2.0)]
    [InlineData(TimecodeRate.Frames30, 2.0)]
    public void Other_speeds_are_heard(TimecodeRate rate, double speed)
    {
        var start = new Timecode(rate, 1, 0, 0, 0);
        var tape = Write(start, 192_000, frames: 12);
        var samples = new float[(int)(tape.Length / 4 / speed)];
        for (var i = 0; i < samples.Length; i++) samples[i] = tape[(int)(i * 4 * speed)];
        var heard = Hear(new LtcReader(48000, rate), samples, 480);
        Assert.InRange(heard.Count, 10, 12);
        Assert.Equal(Enumerable.Range(0, heard.Count).Select(i => heard[0].Label.Plus(i)), heard.Select(reading => reading.Label));
    }

    [Theory]
    [InlineData(0.01f, 0.0005)]
    [InlineData(0.9f, 0.05)]
    [InlineData(-0.5f, 0.02)]
    public void Noise_and_polarity_do_not_matter(float level, double noise)
    {
        var random = new Random(12);
        var samples = Write(new Timecode(TimecodeRate.Frames24, 0, 0, 0, 0), 48000, frames: 10);
        for (var i = 0; i < samples.Length; i++) samples[i] = (samples[i] * 4 * level) + (float)((random.NextDouble() - 0.5) * noise);
        Assert.InRange(Hear(new LtcReader(48000), samples, 100).Count, 8, 10);
    }

    [Fact]
    public void A_gap_is_survived()
    {
        var samples = Write(new Timecode(TimecodeRate.Frames25, 0, 0, 0, 0), 48000, frames: 12);
        samples.AsSpan(8000, 3000).Clear();
        var heard = Hear(new LtcReader(48000), samples, 333);
        Assert.Contains(heard, reading => reading.Label.Frames <= 3);
        Assert.Equal(11, heard[^1].Label.Frames);
        Assert.All(heard, reading => Assert.Equal(reading.Label.Index * 1920.0, reading.From, 1.01));
    }

    [Fact]
    public void Noise_silence_and_what_is_no_number_give_no_label()
    {
        var random = new Random(13);
        var reader = new LtcReader(48000);
        var noise = Enumerable.Range(0, 100_000).Select(_ => (float)(random.NextDouble() - 0.5)).ToArray();
        Assert.Empty(Hear(reader, noise, 999));
        Assert.Empty(Hear(reader, new float[10_000], 999));
        Assert.Empty(Hear(reader, Enumerable.Repeat(float.NaN, 10_000).ToArray(), 999));
        Assert.NotEmpty(Hear(reader, Write(default, 48000, frames: 8), 999));
    }

    [Fact]
    public void Hearing_takes_no_memory()
    {
        var samples = Write(default, 48000, frames: 10);
        var reader = new LtcReader(48000);
        var count = CountFrames(reader, samples);
        var before = GC.GetAllocatedBytesForCurrentThread();
        count += CountFrames(reader, samples);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.InRange(count, 16, 20);
    }

    private static int CountFrames(LtcReader reader, float[] samples)
    {
        var count = 0;
        ReadOnlySpan<float> input = samples;
        while (reader.Read(ref input, out _)) count++;
        return count;
    }

    private static float[] Write(Timecode start, int sampleRate, int frames)
    {
        // One bit more than the frames, for the edge that ends the last.
        var length = (frames + 0.02) * sampleRate / Timecode.FramesPerSecond(start.Rate);
        var samples = new float[(int)length];
        var writer = new LtcWriter(start, sampleRate);
        writer.Fill(samples.AsSpan(0, 777));
        writer.Fill(samples.AsSpan(777));
        return samples;
    }

    private static List<LtcReading> Hear(LtcReader reader, float[] samples, int block)
    {
        var heard = new List<LtcReading>();
        for (var at = 0; at < samples.Length; at += block)
        {
            ReadOnlySpan<float> input = samples.AsSpan(at, Math.Min(block, samples.Length - at));
            while (reader.Read(ref input, out var reading)) heard.Add(reading);
        }
        return heard;
    }
}
