using Mixscore.Score;

namespace Mixscore.Reports.Tests.Exposure;

public sealed class NoiseDoseTests
{
    // NIOSH 98-126: T = 480 / 2^((L − 85)/3) minutes.
    [Theory]
    [InlineData(82, 57600)]
    [InlineData(85, 28800)]
    [InlineData(88, 14400)]
    [InlineData(94, 3600)]
    [InlineData(100, 900)]
    [InlineData(103, 450)]
    [InlineData(109, 112.5)]
    [InlineData(115, 28.125)]
    public void Three_decibels_halve_the_time(double level, double seconds) => Assert.Equal(seconds, NoiseDose.Allowed(level).Value, 1e-6);

    // Worked examples, derived: Leq = 10·log10(Σ tᵢ·10^(Lᵢ/10) / Σ tᵢ).
    [Theory]
    [InlineData(100, 10, null, 5, 98.24)]
    [InlineData(100, 1, 90.0, 14, 92.04)]
    [InlineData(103, 5, 97.0, 10, 99.997)]
    [InlineData(80, 7, 90.0, 7, 87.40)]
    [InlineData(100, 15, 90.0, 45, 95.12)]
    public void Equivalent_levels_are_those_of_mean_power(double level, double minutes, double? other, double otherMinutes, double expected) =>
        Assert.Equal(expected, NoiseDose.Equivalent([(level, new Seconds(60 * minutes)), (other, new Seconds(60 * otherMinutes))])!.Value, 0.005);

    // Worked example, derived: 2 h at 91, 4 h at 85, 2 h at 82: dose 162.5 %, TWA 87.11.
    [Fact]
    public void Doses_add_up()
    {
        (double?, Seconds)[] day = [(91, new Seconds(7200)), (85, new Seconds(14400)), (82, new Seconds(7200))];
        Assert.Equal(1.625, NoiseDose.Dose(day), 1e-9);
        Assert.Equal(87.11, NoiseDose.TimeWeightedAverage(NoiseDose.Dose(day)), 0.005);
        Assert.Equal(87.10, NoiseDose.Equivalent(day)!.Value, 0.005);
    }

    [Fact]
    public void Silence_has_no_level_and_no_dose()
    {
        Assert.Null(NoiseDose.Equivalent([(null, new Seconds(60))]));
        Assert.Equal(0, NoiseDose.Dose([(null, new Seconds(60))]));
    }
}
