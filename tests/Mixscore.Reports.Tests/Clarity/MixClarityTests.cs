using Mixscore.Loudness;
using Mixscore.Reports.Tests.Page;

namespace Mixscore.Reports.Tests.Clarity;

public sealed class MixClarityTests
{
    // Derived: the sample's two stems sound alike, and in bar 20 the voice's fader stands 1 dB higher than the engine's or less.
    [Fact]
    public void Every_bar_names_its_lead_and_how_far_it_stands_over_the_rest()
    {
        var clarity = SampleReport.Make().Result.Clarity;
        Assert.Equal(40, clarity.Count);
        Assert.Null(clarity[0].Lead);
        Assert.Equal("north.voice", clarity[19].Lead);
        Assert.InRange(clarity[19].Over!.Value.Value, -0.1, 1.1);
        Assert.Contains("class=\"clarity\"", ReportPage.Write(SampleReport.Make()), StringComparison.Ordinal);
    }

    // Derived: 1.24 dB over the peak and 0.3 over the loudness: the larger, rounded up to a tenth.
    [Theory]
    [InlineData(0.24, -19.7, 1.3)]
    [InlineData(-1.5, -19.7, 0.3)]
    [InlineData(-1.5, -20.0, null)]
    public void The_smallest_common_lowering_brings_the_mix_under_both_limits(double peak, double loudness, double? lowering)
    {
        var mix = new CheckedMix(new Lufs(loudness), null, Decibels.Of(peak), Decibels.Of(-1)) { LoudnessLimit = new Lufs(-20) };
        if (lowering is { } by) Assert.Equal(by, mix.Lowering!.Value.Value, 1e-9);
        else Assert.Null(mix.Lowering);
    }
}
