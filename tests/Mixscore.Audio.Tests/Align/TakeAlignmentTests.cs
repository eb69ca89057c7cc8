using Mixscore.Score;

namespace Mixscore.Audio.Tests.Align;

public sealed class TakeAlignmentTests
{
    private const int Rate = 48_000;

    // The same notes at the same times, played by another sound, with noise 20 dB under them: the takes are not the same samples.
    [Theory]
    [InlineData(0)]
    [InlineData(3.217)]
    [InlineData(-1.75)]
    public void Another_take_of_the_same_music_is_found(double lag)
    {
        var found = TakeAlignment.Find(Take(220, lag, seed: 1), Take(311, 0, seed: 2), Rate, new Seconds(10));
        Assert.NotNull(found);
        Assert.Equal(lag, found.Lag.Value, 0.005);
    }

    [Fact]
    public void A_persons_hint_says_where_to_look()
    {
        // Music that repeats itself every 4 s: without a hint the lag of least difference could be any.
        var found = TakeAlignment.Find(Take(220, 8.1, seed: 1, period: 4), Take(311, 0, seed: 2, period: 4), Rate, new Seconds(20), new Seconds(8.3));
        Assert.Equal(8.1, found!.Lag.Value, 0.005);
    }

    [Fact]
    public void Noise_is_like_nothing() => Assert.Null(TakeAlignment.Find(Take(220, 0, seed: 1), Noise(30, 9), Rate, new Seconds(10)));

    /// <summary>Notes at uneven times, each with an edge of 10 ms and a fall of 200 ms.</summary>
    private static float[] Take(double hertz, double lag, int seed, double period = 30)
    {
        var noise = Noise(30, (ulong)seed);
        var times = new SeededNoise(77);
        for (var at = 0.5; at < period - 0.6; at += 0.25 + 0.5 * times.Unit())
            for (var again = at; again < 29; again += period)
                for (var i = 0; i < Rate / 2; i++)
                {
                    var frame = (int)Math.Round((again + lag) * Rate) + i;
                    if (frame >= 0 && frame < noise.Length) noise[frame] += (float)(0.3 * Math.Min(1, i / 480.0) * Math.Exp(-i / 9600.0) * Math.Sin(2 * Math.PI * hertz * i / Rate));
                }
        return noise;
    }

    private static float[] Noise(double seconds, ulong seed)
    {
        var noise = new SeededNoise(seed);
        return [.. Enumerable.Range(0, (int)(seconds * Rate)).Select(_ => 0.02f * noise.Even())];
    }
}
