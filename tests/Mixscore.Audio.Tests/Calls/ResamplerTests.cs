namespace Mixscore.Audio.Tests.Calls;

public sealed class ResamplerTests
{
    // A tone keeps its pitch, height and place: compared with the same tone made at the new rate, away from the edges.
    [Theory]
    [InlineData(22050, 48000, 440)]
    [InlineData(22050, 48000, 5000)]
    [InlineData(44100, 48000, 9000)]
    [InlineData(96000, 48000, 3000)]
    public void A_tone_stays_the_tone_it_was(int from, int to, double hertz)
    {
        var (before, expected) = (Sound.Tone(hertz, 0.5, 0.2, from), Sound.Tone(hertz, 0.5, 0.2, to));
        var after = Resampler.To(before, from, to);
        Assert.Equal(expected.Length, after.Length);
        for (var i = 500; i < after.Length - 500; i++) Assert.Equal(expected[i], after[i], 0.002f);
    }

    [Fact]
    public void What_the_lower_rate_cannot_carry_is_gone() =>
        Assert.True(Sound.Level(Resampler.To(Sound.Tone(40000, 0.5, 0.2, 96000), 96000, 48000).AsSpan(500..^500)) < -60);
}
