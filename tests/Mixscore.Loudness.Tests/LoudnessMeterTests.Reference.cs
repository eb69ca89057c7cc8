using CsCheck;
using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public partial class LoudnessMeterTests
{
    // Brute force: the standards written out plainly. 1e-9 LU is ours; the true peak is computed in floats.
    [Theory, InlineData(1, 25), InlineData(2, 30), InlineData(6, 75)]
    public void The_meter_agrees_with_the_standards_written_out(int channels, int stretches) =>
        Programmes.Of(channels, stretches).Sample(samples =>
        {
            var meter = Measured(samples, channels);
            var plain = new PlainMeter(samples, channels);
            Near(plain.Momentary, meter.Momentary?.Value);
            Near(plain.MaxMomentary, meter.MaxMomentary?.Value);
            Near(plain.ShortTerm, meter.ShortTerm?.Value);
            Near(plain.MaxShortTerm, meter.MaxShortTerm?.Value);
            Near(plain.Integrated, meter.Integrated?.Value);
            Near(plain.Range, meter.Range?.Value);
            Assert.Equal(plain.SamplePeak, meter.SamplePeak!.Value.ToGain(), 1e-9);
            Assert.Equal(plain.TruePeak, meter.TruePeak!.Value.ToGain(), 2e-6);
        }, iter: 3);

    private static void Near(double? wanted, double? found)
    {
        if (wanted is { } value) Within(1e-9, value, found);
        else Assert.Null(found);
    }
}
