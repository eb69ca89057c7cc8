using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests.Published;

public class CalibrationTests
{
    // ITU-R BS.1770-5, Annex 1: 0 dBFS at 997 Hz on one of L, C or R reads -3.01 LKFS.
    [Theory, InlineData(0), InlineData(1), InlineData(2)]
    public void A_997_Hz_tone_at_full_scale_on_one_front_channel_reads_minus_3_01(int channel)
    {
        var levels = new double?[5];
        levels[channel] = 0;
        Within(0.005, -3.01, Measured(Channels(5, 997, Rate, levels), 5).Integrated?.Value);
    }

    // Derived: the same tone, the high-pass numerator not being normalised (reference figures 1.2), at the other rates.
    [Theory, InlineData(32_000), InlineData(44_100), InlineData(88_200), InlineData(96_000), InlineData(192_000)]
    public void A_997_Hz_tone_reads_the_same_within_0_05_at_other_rates(int rate) =>
        Within(0.05, -3.01, Measured(Channels(5, 997, rate, 0), 1, rate).Integrated?.Value);

    // EBU Tech 3341, 2.9: a 1 kHz stereo tone, in phase, of peak -18 dBFS reads -18.0 LUFS.
    [Fact]
    public void A_1_kHz_stereo_tone_at_minus_18_reads_minus_18() =>
        Within(0.05, -18, Measured(Stereo(new Stretch(5, -18))).Integrated?.Value);

    // Derived: -3.0103 at 997 Hz by an independent run of the same clauses.
    [Fact]
    public void The_997_Hz_reading_agrees_with_an_independent_run() =>
        Within(0.0002, -3.0103, Measured(Channels(20, 997, Rate, 0), 1).Integrated?.Value);
}
