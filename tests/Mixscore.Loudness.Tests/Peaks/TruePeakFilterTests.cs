using CsCheck;

namespace Mixscore.Loudness.Tests.Peaks;

public class TruePeakFilterTests
{
    // Derived from the table of ITU-R BS.1770-5, Annex 2: sums of phases 0 and 1 (and of 3 and 2, these reversed).
    [Theory, InlineData(0, 1.00158691), InlineData(1, 0.97302246)]
    public void Each_phase_has_its_sum(int phase, double sum) =>
        Assert.Equal(sum, TruePeakFilter.Phases[phase].Sum(tap => (double)tap), 5e-9);

    // Derived: the printed taps are multiples of 1/8192, hence exact as floats and when halved.
    [Fact]
    public void Every_tap_times_8192_is_whole() =>
        Assert.All(TruePeakFilter.Phases.SelectMany(phase => phase), tap => Assert.True(float.IsInteger(tap * 8192)));

    [Fact]
    public void A_phase_has_twelve_taps() =>
        Assert.All(TruePeakFilter.Phases, phase => Assert.Equal(TruePeakFilter.Taps, phase.Length));

    // BS.1770-5, Annex 2: phases 2 and 3 printed in full there; phase 3 is phase 0 and phase 2 is phase 1 reversed.
    [Fact]
    public void The_other_two_phases_are_these_reversed()
    {
        Assert.Equal(PlainMeter.Phase3, TruePeakFilter.Phases[0].Reverse().Select(tap => (double)tap));
        Assert.Equal(PlainMeter.Phase2, TruePeakFilter.Phases[1].Reverse().Select(tap => (double)tap));
    }

    // BS.1770-5, Annex 2: 48 kHz needs 4 times, 96 kHz half of that.
    [Theory, InlineData(32_000, 4), InlineData(48_000, 4), InlineData(88_200, 4), InlineData(96_000, 2), InlineData(176_400, 2)]
    [InlineData(192_000, 1)]
    public void The_ratio_falls_as_the_rate_rises(int rate, int ratio) => Assert.Equal(ratio, TruePeakFilter.Ratio(rate));

    // Brute force: every phase as a plain sum in double; floats are good for 1e-6 of the largest sample.
    [Fact]
    public void The_folded_filter_finds_what_plain_filters_find() =>
        Gen.Float[-1, 1].Array[TruePeakFilter.History, 200].Sample(samples =>
        {
            Assert.Equal(PlainMeter.Interpolated(samples, 4), TruePeakFilter.Peak(samples, 4), 2e-6);
            Assert.Equal(PlainMeter.Interpolated(samples, 2), TruePeakFilter.Peak(samples, 2), 2e-6);
            Assert.Equal(0, TruePeakFilter.Peak(samples, 1));
        }, iter: 300);

    // A peak that lies anywhere within the samples is found by the quick and by the remaining loop alike.
    [Fact]
    public void An_impulse_is_found_wherever_it_lies()
    {
        for (var length = TruePeakFilter.Taps; length < 60; length++)
        {
            for (var at = 0; at < length; at++)
            {
                var samples = new float[length];
                samples[at] = 1;
                Assert.Equal(PlainMeter.Interpolated(samples, 4), TruePeakFilter.Peak(samples, 4), 1e-6);
            }
        }
    }
}
