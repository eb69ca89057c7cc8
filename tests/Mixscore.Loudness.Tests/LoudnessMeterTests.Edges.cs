using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public partial class LoudnessMeterTests
{
    // ITU-R BS.1770-5, Annex 1: an incomplete block is not used; so each figure appears with its first whole window.
    [Fact]
    public void Figures_appear_with_their_first_whole_window()
    {
        var tone = Channels(3, 997, Rate, -20);
        LoudnessMeter After(int frames) => Measured(tone[..frames], 1);
        Assert.Null(After(19_199).Momentary);
        Assert.Null(After(19_199).Integrated);
        Assert.NotNull(After(19_200).Momentary);
        Assert.NotNull(After(19_200).Integrated);
        Assert.Null(After(143_999).ShortTerm);
        Assert.Null(After(143_999).Range);
        Assert.NotNull(After(144_000).ShortTerm);
        Assert.Equal(Decibels.Zero, After(144_000).Range);
    }

    [Fact]
    public void A_new_meter_has_nothing_to_say()
    {
        var meter = new LoudnessMeter(new SoundFormat(Rate, 2));
        Assert.Equal(new Readings(0, 0, null, null, null, null, null, null, null, null), Figures(meter));
        Assert.Equal(0, meter.Seconds);
        Assert.Null(meter.TruePeakOfLastPush);
        meter.Push([]);
        Assert.Equal(0, meter.Frames);
    }

    [Fact]
    public void Silence_is_null_and_never_a_number()
    {
        var meter = Measured(new float[2 * 5 * Rate]);
        Assert.Equal(new Readings(5 * Rate, 0, null, null, null, null, null, null, null, null), Figures(meter));
        Assert.Equal(5, meter.Seconds);
    }

    [Fact]
    public void What_is_softer_than_minus_70_has_no_integrated_loudness()
    {
        var meter = Measured(Channels(5, 997, Rate, -80), 1);
        Within(0.01, -83.01, meter.MaxShortTerm?.Value);
        Assert.Null(meter.Integrated);
        Assert.Null(meter.Range);
    }

    [Theory, InlineData(float.NaN), InlineData(float.PositiveInfinity), InlineData(float.NegativeInfinity), InlineData(3e38f)]
    public void A_faulty_sample_is_heard_as_zero_and_counted(float fault)
    {
        var samples = Programmes.Noise(4 * Rate, 0.1, seed: 4);
        foreach (var at in new[] { 0, 1, 100, 479, 480, 1000, samples.Length - 1 }) samples[at] = 0;
        var sound = Measured(samples, 1);
        foreach (var at in new[] { 0, 1, 100, 479, 480, 1000, samples.Length - 1 }) samples[at] = fault;
        var faulty = Measured(samples, 1);
        Assert.Equal(7, faulty.InvalidSamples);
        Assert.Equal(Figures(sound) with { InvalidSamples = 7 }, Figures(faulty));
    }

    [Fact]
    public void Nothing_but_faults_is_silence()
    {
        var samples = new float[4 * Rate];
        samples.AsSpan().Fill(float.NaN);
        var meter = Measured(samples, 1);
        Assert.Equal(new Readings(4 * Rate, 4 * Rate, null, null, null, null, null, null, null, null), Figures(meter));
    }

    // Samples above full scale are not clipped (EBU Tech 3341, signal 19), and no finite sound makes a figure overflow.
    [Theory, InlineData(1.41), InlineData(1e6), InlineData(0.99e12)]
    public void Loud_beyond_full_scale_is_measured(double size)
    {
        var meter = Measured(Programmes.Noise(4 * Rate, size, seed: 5), 1);
        Assert.Equal(0, meter.InvalidSamples);
        Within(0.01, 20 * Math.Log10(size), meter.SamplePeak?.Value);
        Assert.True(meter.TruePeak >= meter.SamplePeak);
        Assert.NotNull(meter.Integrated);
    }

    // What is far below any sound must not leave denormal numbers behind, on which arithmetic is many times slower.
    [Fact]
    public void After_the_sound_the_filters_come_to_rest()
    {
        var meter = Measured(Channels(1, 100, Rate, 0), 1);
        meter.Push(new float[Rate]);
        Assert.Null(meter.Momentary);
        Assert.NotNull(meter.MaxMomentary);
    }

    [Fact]
    public void Denormal_samples_are_silence()
    {
        var samples = new float[Rate];
        samples.AsSpan().Fill(1e-40f);
        Assert.Equal(new Readings(Rate, 0, null, null, null, null, null, null, null, null), Figures(Measured(samples, 1)));
    }

    [Fact]
    public void A_torn_frame_is_refused_and_not_heard()
    {
        var meter = new LoudnessMeter(new SoundFormat(Rate, 2));
        Assert.Throws<ArgumentException>(() => meter.Push(new float[3]));
        Assert.Throws<ArgumentException>(() => meter.PushPlanar(new float[5]));
        Assert.Equal(0, meter.Frames);
    }

    [Fact]
    public void A_figure_that_was_not_asked_for_is_a_bad_call()
    {
        var meter = new LoudnessMeter(default, Measure.Momentary);
        Assert.Null(meter.Momentary);
        Assert.Contains("Measure.Integrated", Assert.Throws<InvalidOperationException>(() => meter.Integrated).Message);
        Assert.Throws<InvalidOperationException>(() => meter.ShortTerm);
        Assert.Throws<InvalidOperationException>(() => meter.Range);
        Assert.Throws<InvalidOperationException>(() => meter.SamplePeak);
        Assert.Throws<InvalidOperationException>(() => meter.TruePeak);
        Assert.Throws<InvalidOperationException>(meter.ToEnergyTrack);
        Assert.Throws<InvalidOperationException>(() => LoudnessMeter.IntegratedOf([meter]));
    }

    [Fact]
    public void The_peak_of_the_last_push_forgets_the_ones_before()
    {
        var meter = Measured(Programmes.Noise(Rate, 0.9, seed: 6), 1);
        meter.Push(Programmes.Noise(24_000, 0.01, seed: 7));
        meter.Push(Programmes.Noise(24_000, 0.01, seed: 8));
        Assert.True(meter.TruePeakOfLastPush < Decibels.Of(-30));
        Assert.True(meter.TruePeak > Decibels.Of(-1));
        meter.Push([]);
        Assert.Null(meter.TruePeakOfLastPush);
    }
}
