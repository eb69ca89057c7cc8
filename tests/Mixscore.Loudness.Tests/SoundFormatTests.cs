using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public class SoundFormatTests
{
    // ITU-R BS.1770-5, Annex 1, Table 3.
    public static TheoryData<double[]> Layouts =>
        new(
        [1.0], [1.0, 1.0], [1.0, 1.0, 1.0], [1, 1, 1.41, 1.41], [1, 1, 1, 1.41, 1.41], [1, 1, 1, 0, 1.41, 1.41]);

    [Theory, MemberData(nameof(Layouts))]
    public void Channels_weigh_as_their_layout_says(double[] weights)
    {
        var format = new SoundFormat(Rate, weights.Length);
        Assert.Equal(weights, Enumerable.Range(0, format.Channels).Select(format.Weight));
    }

    // A tone on one channel alone reads its weight; on LFE nothing, but it still has a peak.
    [Theory, MemberData(nameof(Layouts))]
    public void Each_channel_reads_its_weight(double[] weights)
    {
        for (var channel = 0; channel < weights.Length; channel++)
        {
            var levels = new double?[weights.Length];
            levels[channel] = -20;
            var meter = Measured(Channels(1, 997, Rate, levels), weights.Length);
            Within(0.01, -20, meter.TruePeak?.Value);
            if (weights[channel] > 0) Within(0.01, -23.01 + 10 * Math.Log10(weights[channel]), meter.Momentary?.Value);
            else Assert.Null(meter.Momentary);
        }
    }

    [Theory, InlineData(31_999, 2), InlineData(192_001, 2), InlineData(0, 2), InlineData(48_000, 0), InlineData(48_000, 7)]
    public void What_is_out_of_range_is_refused(int rate, int channels) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new SoundFormat(rate, channels));

    [Fact]
    public void Weights_of_ones_own_are_kept_and_checked()
    {
        var format = SoundFormat.Weighted(Rate, 1, 0, 1.41);
        Assert.Equal([1, 0, 1.41], Enumerable.Range(0, 3).Select(format.Weight));
        Assert.Throws<ArgumentOutOfRangeException>(() => format.Weight(3));
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundFormat.Weighted(Rate));
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundFormat.Weighted(Rate, -0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundFormat.Weighted(Rate, double.NaN));
        Assert.Throws<ArgumentOutOfRangeException>(() => SoundFormat.Weighted(Rate, new double[25]));
    }

    [Fact]
    public void Formats_are_equal_when_rate_and_weights_are()
    {
        Assert.Equal(new SoundFormat(Rate, 2), SoundFormat.Weighted(Rate, 1, 1));
        Assert.Equal(new SoundFormat(Rate, 2).GetHashCode(), SoundFormat.Weighted(Rate, 1, 1).GetHashCode());
        Assert.NotEqual(new SoundFormat(Rate, 2), SoundFormat.Weighted(Rate, 1, 1.41));
        Assert.NotEqual(new SoundFormat(Rate, 2), new SoundFormat(44_100, 2));
    }

    [Fact]
    public void The_default_is_48_kHz_mono()
    {
        Assert.Equal(new SoundFormat(48_000, 1), default);
        Assert.Equal("48000 Hz, 1 channel", default(SoundFormat).ToString());
        Assert.Equal(1, default(SoundFormat).Weight(0));
    }
}
