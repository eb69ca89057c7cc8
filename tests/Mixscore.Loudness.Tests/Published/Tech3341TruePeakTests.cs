using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests.Published;

// EBU Tech 3341 (2023), Table 1, signals 15 to 23: stereo, dBTP, within +0.2 and -0.4 dB.
public class Tech3341TruePeakTests
{
    private const double Over = 0.2, Under = 0.4;

    // Last column derived: the Annex 2 filter's reading of the same tone, larger of it and the sample peak.
    [Theory]
    [InlineData(4, 0.50, 0, -6, -6.02)]
    [InlineData(4, 0.50, 45, -6, -5.98)]
    [InlineData(6, 0.50, 60, -6, -6.31)]
    [InlineData(8, 0.50, 67.5, -6, -6.03)]
    [InlineData(4, 1.41, 45, 3, 3.03)]
    public void Signals_15_to_19_tones_between_the_samples(int part, double size, double phase, double wanted, double independent)
    {
        var read = Measured(Faded(part, size, phase)).TruePeak?.Value;
        Published(wanted, read);
        Within(0.01, independent, read);
    }

    [Theory, InlineData(0), InlineData(1), InlineData(2), InlineData(3)]
    public void Signals_20_to_23_one_period_at_full_scale_between_the_samples(int offset) =>
        Published(0, Measured(Burst(offset)).TruePeak?.Value);

    // The sample peak alone misses by 3 dB and more what the signals hold; this is what the over-sampling is for.
    [Fact]
    public void The_sample_peak_misses_signal_19() =>
        Within(0.02, -0.03, Measured(Faded(4, 1.41, 45)).SamplePeak?.Value);

    // Derived: the same tones at 96 kHz, where the signal is over-sampled twice, keep to the same tolerance.
    [Theory, InlineData(4, 45.0), InlineData(6, 60.0), InlineData(8, 67.5), InlineData(4, 22.5), InlineData(4, 10.0)]
    public void At_96_kHz_the_same_tolerance_is_kept(int part, double phase) =>
        Published(-6, Measured(Faded(part, 0.5, phase), rate: 96_000).TruePeak?.Value);

    private static void Published(double wanted, double? read)
    {
        Assert.NotNull(read);
        Assert.InRange(read.Value, wanted - Under, wanted + Over);
    }

    // One second of fs / part, fading over 10 ms at both ends.
    private static float[] Faded(int part, double size, double phase)
    {
        var samples = new float[2 * Rate];
        for (var i = 0; i < Rate; i++)
        {
            var fade = Math.Min(1, Math.Min(i, Rate - 1 - i) / (0.01 * Rate));
            samples[2 * i] = samples[2 * i + 1] =
                (float)(size * fade * Math.Sin(2 * Math.PI * i / part + phase * Math.PI / 180));
        }
        return samples;
    }

    // Made at 4 fs: fs/6 at 0.5, at a zero crossing one period of fs/4 at 1, then fs/6 again. Low-passed, then every fourth.
    private static float[] Burst(int offset)
    {
        const int Period6 = 24, Period4 = 16, Before = Period6 * 100, Half = 256;
        var fine = new double[2 * Before + Period4];
        for (var i = 0; i < fine.Length; i++)
        {
            fine[i] = i is >= Before and < Before + Period4
                ? Math.Sin(2 * Math.PI * (i - Before) / Period4)
                : 0.5 * Math.Sin(2 * Math.PI * (i < Before ? i : i - Period4) / Period6);
            fine[i] *= Math.Min(1, Math.Min(i, fine.Length - 1 - i) / 1000.0);
        }
        var samples = new float[fine.Length / 4 * 2];
        for (var i = 0; i < samples.Length / 2; i++)
        {
            var sum = 0.0;
            for (var k = -Half; k <= Half; k++)
            {
                var at = 4 * i + offset + k;
                if (at < 0 || at >= fine.Length) continue;
                var window = 0.42 + 0.5 * Math.Cos(Math.PI * k / Half) + 0.08 * Math.Cos(2 * Math.PI * k / Half);
                sum += fine[at] * window * (k == 0 ? 0.25 : Math.Sin(Math.PI * k / 4) / (Math.PI * k));
            }
            samples[2 * i] = samples[2 * i + 1] = (float)sum;
        }
        return samples;
    }
}
