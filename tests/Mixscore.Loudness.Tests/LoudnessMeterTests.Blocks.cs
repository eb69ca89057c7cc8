using CsCheck;
using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public partial class LoudnessMeterTests
{
    private static readonly int[] Rates = [32_000, 37_813, 44_100, 48_000, 96_000, 192_000];
    private static readonly Gen<int> AnyRate = Gen.Int[0, Rates.Length - 1].Select(i => Rates[i]);

    // Law: how the sound is cut into blocks, and whether channels lie side by side or one after the other, changes no bit.
    [Fact]
    public void Any_block_size_gives_the_same_bits() =>
        (from rate in AnyRate
         from channels in Gen.Int[1, 6]
         from samples in Programmes.Of(channels, 12)
         from faults in Gen.Int[0, samples.Length - 1].Array[0, 3]
         from blocks in Gen.OneOf(Gen.Int[1, 40], Gen.Int[1, 6000]).Array[1, 20]
         select (rate, channels, samples, faults, blocks)).Sample(given =>
        {
            var (rate, channels, samples, faults, blocks) = given;
            foreach (var fault in faults) samples[fault] = float.NaN;
            var whole = Measured(samples, channels, rate, Measure.All | Measure.EnergyTrack);
            var cut = new LoudnessMeter(whole.Format, whole.Measures);
            var planar = new LoudnessMeter(whole.Format, whole.Measures);
            var peak = Decibels.FromGain(0);
            int frames = samples.Length / channels, turn = 0;
            for (var at = 0; at < frames;)
            {
                var length = Math.Min(blocks[turn++ % blocks.Length], frames - at);
                var block = samples.AsSpan(at * channels, length * channels);
                cut.Push(block);
                planar.PushPlanar(Planar(block, channels));
                if (cut.TruePeakOfLastPush is { } last && !(last <= peak)) peak = last;
                at += length;
            }
            Assert.Equal(Figures(whole), Figures(cut));
            Assert.Equal(Figures(whole), Figures(planar));
            Assert.Equal(whole.TruePeak, peak);
            Assert.Equal(whole.ToEnergyTrack().Hops, cut.ToEnergyTrack().Hops);
        }, iter: 60);

    // The filters are let come to rest at hop ends only; a dying sound shows it where blocks end elsewhere.
    [Theory, InlineData(1), InlineData(37), InlineData(479)]
    public void Any_block_size_gives_the_same_bits_while_a_sound_dies_away(int block)
    {
        var samples = new float[Rate];
        samples[0] = 1;
        var whole = Measured(samples, 1, measures: Measure.EnergyTrack).ToEnergyTrack();
        var cut = new LoudnessMeter(default, Measure.EnergyTrack);
        for (var at = 0; at < samples.Length; at += block) cut.Push(samples.AsSpan(at, Math.Min(block, samples.Length - at)));
        Assert.Equal(whole.Hops, cut.ToEnergyTrack().Hops);
        Assert.Contains(whole.Hops.ToArray(), energy => energy is > 0 and < 1e-50);
        Assert.Equal(0, whole.Hops[^1]);
    }

    [Fact]
    public void Reading_changes_nothing()
    {
        var samples = Programmes.Noise(5 * Rate, 0.1, seed: 1);
        var read = new LoudnessMeter(default, Measure.All | Measure.EnergyTrack);
        for (var at = 0; at < samples.Length; at += 1000)
        {
            read.Push(samples.AsSpan(at, 1000));
            Assert.Equal(Figures(read), Figures(read));
            Assert.Equal(read.ToEnergyTrack().Hops, read.ToEnergyTrack().Hops);
        }
        Assert.Equal(Figures(Measured(samples, 1)), Figures(read));
    }

    [Fact]
    public void Asking_for_less_reads_the_same()
    {
        var samples = Programmes.Noise(5 * Rate, 0.1, seed: 2);
        var all = Measured(samples);
        Assert.Equal(all.Momentary, Measured(samples, measures: Measure.Momentary).Momentary);
        Assert.Equal(all.MaxMomentary, Measured(samples, measures: Measure.Momentary).MaxMomentary);
        Assert.Equal(all.MaxShortTerm, Measured(samples, measures: Measure.ShortTerm).MaxShortTerm);
        Assert.Equal(all.Integrated, Measured(samples, measures: Measure.Integrated).Integrated);
        Assert.Equal(all.Range, Measured(samples, measures: Measure.Range).Range);
        Assert.Equal(all.SamplePeak, Measured(samples, measures: Measure.SamplePeak).SamplePeak);
        Assert.Equal(all.TruePeak, Measured(samples, measures: Measure.TruePeak).TruePeak);
    }

    // The live run may not wait for the collector.
    [Fact]
    public void Push_allocates_nothing()
    {
        var block = Programmes.Noise(2 * 480, 0.1, seed: 3);
        var meter = new LoudnessMeter(new SoundFormat(Rate, 2));
        for (var i = 0; i < 500; i++) meter.Push(block);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 500; i++) meter.Push(block);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static float[] Planar(ReadOnlySpan<float> interleaved, int channels)
    {
        var frames = interleaved.Length / channels;
        var planar = new float[interleaved.Length];
        for (var i = 0; i < interleaved.Length; i++) planar[i % channels * frames + i / channels] = interleaved[i];
        return planar;
    }

    private static Readings Figures(LoudnessMeter meter) => new(
        meter.Frames, meter.InvalidSamples, meter.Momentary, meter.MaxMomentary, meter.ShortTerm, meter.MaxShortTerm,
        meter.Integrated, meter.Range, meter.SamplePeak, meter.TruePeak);

    private sealed record Readings(
        long Frames, long InvalidSamples, Lufs? Momentary, Lufs? MaxMomentary, Lufs? ShortTerm, Lufs? MaxShortTerm,
        Lufs? Integrated, Decibels? Range, Decibels? SamplePeak, Decibels? TruePeak);
}
