namespace Mixscore.Planning.Tests.HallTests;

public sealed class SpeedOfSoundTests
{
    // ISO 9613-1: c = 343.2·√((T + 273.15)/293.15); table derived, printed to hundredths.
    [Theory]
    [InlineData(-10, 325.17, 3.0754)]
    [InlineData(0, 331.29, 3.0185)]
    [InlineData(10, 337.30, 2.9648)]
    [InlineData(15, 340.26, 2.9389)]
    [InlineData(20, 343.20, 2.9138)]
    [InlineData(25, 346.11, 2.8892)]
    [InlineData(30, 349.00, 2.8653)]
    [InlineData(35, 351.87, 2.8420)]
    [InlineData(40, 354.71, 2.8192)]
    public void It_is_the_standards(double celsius, double metresASecond, double millisecondsAMetre)
    {
        Assert.Equal(metresASecond, SpeedOfSound.At(celsius), 0.006);
        Assert.Equal(millisecondsAMetre, SpeedOfSound.Over(1, celsius).Value * 1000, 0.00006);
    }

    [Fact]
    public void Below_absolute_zero_there_is_no_air() => Assert.Throws<ArgumentOutOfRangeException>(() => SpeedOfSound.At(-274));
}
