using CsCheck;
using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests.Many;

public class StemsMeterTests
{
    private static readonly int[] Rates = [32_000, 37_813, 44_100, 48_000, 96_000, 192_000];

    private const Measure Everything = Measure.All | Measure.EnergyTrack;

    private static readonly Gen<(SoundFormat[] Formats, float[][] Channels)> AnyStems =
        from rate in Programmes.AnyOf(Rates)
        from channels in Gen.Int[1, 6].Array[1, 3]
        from sounds in Programmes.Of(1, 5).Array[channels.Sum()]
        from fault in Gen.Int[0, 5000]
        select (channels.Select(count => new SoundFormat(rate, count)).ToArray(), Even(sounds, fault));

    // Law: a stem among many reads what it reads alone.
    [Fact]
    public void Many_stems_read_what_each_reads_alone() =>
        AnyStems.Sample(stems =>
        {
            foreach (var kernel in new[] { LaneKernel.Plain, LaneKernel.Fours, LaneKernel.Eights })
            {
                var many = new StemsMeter(stems.Formats, Everything, LaneWork.Best with { Kernel = kernel });
                Push(many, stems.Channels, 0, stems.Channels[0].Length);
                for (int stem = 0, channel = 0; stem < stems.Formats.Length; channel += stems.Formats[stem++].Channels)
                {
                    var alone = new LoudnessMeter(stems.Formats[stem], Everything);
                    alone.PushPlanar(Planar(stems.Channels[channel..(channel + stems.Formats[stem].Channels)], 0, stems.Channels[0].Length));
                    Alike.Same(alone.Figures, many[stem]);
                }
            }
        }, iter: 8);

    // Law: how the sound is cut into blocks changes no bit.
    [Fact]
    public void Any_block_size_gives_the_same_bits() =>
        Gen.Select(AnyStems, Gen.OneOf(Gen.Int[1, 40], Gen.Int[1, 6000]).Array[1, 20]).Sample((stems, blocks) =>
        {
            StemsMeter whole = new(stems.Formats, Everything), cut = new(stems.Formats, Everything);
            var frames = stems.Channels[0].Length;
            Push(whole, stems.Channels, 0, frames);
            for (int at = 0, turn = 0; at < frames; at += Push(cut, stems.Channels, at, Math.Min(blocks[turn++ % blocks.Length], frames - at))) { }
            for (var stem = 0; stem < stems.Formats.Length; stem++)
            {
                Assert.Equal(Figures(whole[stem]), Figures(cut[stem]));
                Assert.Equal(whole[stem].ToEnergyTrack().Hops, cut[stem].ToEnergyTrack().Hops);
            }
        }, iter: 8);

    // After construction the way of a block takes no memory, but for a piece of history every ten minutes (none falls here).
    [Fact]
    public void A_block_allocates_nothing()
    {
        var meter = new StemsMeter([.. Enumerable.Range(0, 12).Select(_ => default(SoundFormat))]);
        var block = Programmes.Noise(12 * 480, 0.1, seed: 1);
        for (var i = 0; i < 400; i++) Hear();
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 400; i++) Hear();
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);

        void Hear()
        {
            meter.Push(block);
            for (var stem = 0; stem < meter.Count; stem++) _ = (meter[stem].Momentary, meter[stem].ShortTerm, meter[stem].Integrated, meter[stem].TruePeak);
        }
    }

    [Theory, InlineData(float.NaN), InlineData(float.PositiveInfinity), InlineData(float.NegativeInfinity), InlineData(3e38f), InlineData(1e-40f)]
    public void Faults_in_one_stem_leave_the_others_alone(float fault)
    {
        var sound = Programmes.Noise(4 * Rate, 0.1, seed: 4);
        var meter = new StemsMeter([default, default]);
        float[] faulty = new float[sound.Length];
        faulty.AsSpan().Fill(fault);
        meter.Push([.. sound, .. faulty]);
        Alike.Same(Measured(sound, 1).Figures, meter[0]);
        Assert.Equal(fault == 1e-40f ? 0 : sound.Length, meter[1].InvalidSamples);
        Assert.Null(meter[1].MaxMomentary);
        Assert.Null(meter[1].TruePeak);
    }

    // DC passes no high-pass: after its onset nothing is left but rounding. Derived.
    [Fact]
    public void Direct_current_fades_into_silence()
    {
        var direct = new float[4 * Rate];
        direct.AsSpan().Fill(1);
        var meter = new StemsMeter([default]);
        meter.Push(direct);
        Assert.True(!(meter[0].Momentary > new Lufs(-200)), $"{meter[0].Momentary}");
        Within(1e-9, 0, meter[0].SamplePeak?.Value);
    }

    // A full-scale square of 8 samples a period overshoots between them; it reads as the plain reference says.
    [Fact]
    public void A_full_scale_square_reads_what_the_standard_says()
    {
        float[] square = [.. Enumerable.Range(0, 4 * Rate).Select(i => i % 8 < 4 ? 1f : -1f)];
        var meter = new StemsMeter([default]);
        meter.Push(square);
        var plain = new PlainMeter(square, 1);
        Within(1e-9, plain.Integrated!.Value, meter[0].Integrated?.Value);
        Within(1e-5, 20 * Math.Log10(plain.TruePeak), meter[0].TruePeak?.Value);
        Assert.True(meter[0].TruePeak > Decibels.Of(0.5));
    }

    [Fact]
    public void Bad_calls_are_refused_and_not_heard()
    {
        Assert.Throws<ArgumentException>(() => new StemsMeter([]));
        Assert.Throws<ArgumentException>(() => new StemsMeter([new(48_000, 1), new(44_100, 1)]));
        var meter = new StemsMeter([new(48_000, 1), new(48_000, 2)]);
        Assert.Throws<ArgumentException>(() => meter.Push(new float[4]));
        meter.Push([]);
        Assert.Equal(0, meter.Frames);
    }

    private static float[][] Even(float[][] sounds, int fault)
    {
        var frames = sounds.Min(sound => sound.Length);
        sounds[0][fault % frames] = float.NaN;
        return [.. sounds.Select(sound => sound[..frames])];
    }

    private static int Push(StemsMeter meter, float[][] channels, int at, int count)
    {
        meter.Push(Planar(channels, at, count));
        return count;
    }

    private static float[] Planar(float[][] channels, int at, int count) => [.. channels.SelectMany(channel => channel.AsSpan(at, count).ToArray())];

    private static object Figures(LoudnessFigures figures) => (figures.Frames, figures.InvalidSamples, figures.Momentary, figures.ShortTerm,
        figures.MaxMomentary, figures.MaxShortTerm, figures.Integrated, figures.Range, figures.SamplePeak, figures.TruePeak);
}
