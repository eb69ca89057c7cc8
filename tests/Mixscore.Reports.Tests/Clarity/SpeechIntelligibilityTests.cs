namespace Mixscore.Reports.Tests.Clarity;

// ANSI S3.5-1997, one-third octave procedure. Worked examples as published with two public codes of it; the standard was not seen.
public sealed class SpeechIntelligibilityTests
{
    private static readonly double[] Threshold = [90, .. Enumerable.Repeat(0.0, 17)];
    private static readonly double[] Speech = [90, 5, .. Enumerable.Repeat(40.0, 12), .. Enumerable.Repeat(-10.0, 4)];
    private static readonly double[] Noise = [10, -10, -10, 75, .. Enumerable.Repeat(-10.0, 10), .. Enumerable.Repeat(10.0, 4)];
    private static readonly double[] Quiet = [.. Enumerable.Repeat(SpeechIntelligibility.NoNoise, 18)];

    // Tolerance 0.001, as published.
    [Fact]
    public void The_worked_example_comes_out() => Assert.Equal(0.445, SpeechIntelligibility.Index(Speech, Noise, Threshold), 0.001);

    [Fact]
    public void The_worked_example_with_other_importance_comes_out() =>
        Assert.Equal(0.438, SpeechIntelligibility.Index(Speech, Noise, Threshold, [.. Enumerable.Repeat(0.0, 9), .. Enumerable.Repeat(0.1, 7), 0.3, 0]), 0.001);

    // Binaural listening lowers the threshold by 1.7 dB. Tolerance 0.0001.
    [Theory]
    [InlineData(0.5, 1.0000, 0.8809)]
    [InlineData(1, 0.9969, 0.9177)]
    [InlineData(1.5, 0.9947, 0.9386)]
    [InlineData(2, 0.9920, 0.9522)]
    [InlineData(5, 0.9775, 0.9899)]
    [InlineData(10, 0.9583, 0.9958)]
    [InlineData(20, 0.8627, 0.9900)]
    public void Normal_speech_and_a_shout_in_quiet_over_distance(double metres, double normal, double shout)
    {
        double[] binaural = [.. Enumerable.Repeat(-1.7, 18)];
        Assert.Equal(normal, SpeechIntelligibility.Index(From(metres, SpeechBands.Normal), Quiet, binaural), 0.0001);
        Assert.Equal(shout, SpeechIntelligibility.Index(From(metres, SpeechBands.Shout), Quiet, binaural), 0.0001);
    }

    // White noise, dB a hertz, one ear. Tolerance 0.0001.
    [Theory]
    [InlineData(0, 0.9177)]
    [InlineData(20, 0.8795)]
    [InlineData(30, 0.7790)]
    [InlineData(40, 0.5372)]
    [InlineData(50, 0.2604)]
    [InlineData(60, 0.0534)]
    public void A_shout_over_white_noise(double noise, double index) =>
        Assert.Equal(index, SpeechIntelligibility.Index(SpeechBands.Shout, [.. Enumerable.Repeat(noise, 18)]), 0.0001);

    // Derived, by the steps above, for speech-shaped noise; one ear. Tolerance 0.0001.
    [Theory]
    [InlineData(15, 0.9715)]
    [InlineData(10, 0.8052)]
    [InlineData(5, 0.6363)]
    [InlineData(0, 0.4663)]
    [InlineData(-5, 0.2957)]
    [InlineData(-10, 0.1248)]
    [InlineData(-15, 0)]
    public void Normal_speech_over_noise_of_its_own_shape(double over, double index) =>
        Assert.Equal(index, SpeechIntelligibility.Index(SpeechBands.Normal, [.. SpeechBands.Normal.Select(level => level - over)]), 0.0001);

    // Read as the standard's own values: 40, 34.66, 25.04; recomputed as 25.05. Tolerance 0.01.
    [Fact]
    public void Masking_spreads_upward()
    {
        double[] speech = [54, 54, 54, .. Enumerable.Repeat(0.0, 15)];
        double[] noise = [40, 30, 20, .. Enumerable.Repeat(0.0, 15)];
        Assert.Equal([40, 34.66, 25.05], SpeechIntelligibility.Masking(speech, noise).Take(3).Select(level => Math.Round(level, 2)));
    }

    [Fact]
    public void Importance_adds_up_to_1() => Assert.Equal(1, SpeechBands.Importance.Sum(), 1e-9);

    private static double[] From(double metres, IReadOnlyList<double> at1Metre) => [.. at1Metre.Select(level => level - 20 * Math.Log10(metres))];
}
