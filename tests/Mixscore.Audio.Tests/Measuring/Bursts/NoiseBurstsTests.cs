using CsCheck;

namespace Mixscore.Audio.Tests.Measuring.Bursts;

/// <summary>Bursts whose places are known, over the demo's players and without. Truth by construction.</summary>
public sealed class NoiseBurstsTests : IDisposable
{
    private const int Rate = LinkNoise.Rate;
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private sealed record Burst(double At, double Length, double? Cut, double Level, bool IsOver);

    private Stretch[] Found(float[] samples, int rate = Rate, int channels = 1) => Found(Sound.Write(_folder["a.wav"], samples, rate, channels));

    internal static Stretch[] Found(StemFile file) => SoundAnalysis.OfAll([file], (_, _, e) => throw e, _ => { }, TestContext.Current.CancellationToken)[0].Bursts;

    private static float[] With(float[] sound, IEnumerable<Burst> bursts, SeededNoise noise)
    {
        var with = (float[])sound.Clone();
        foreach (var burst in bursts)
        {
            var (at, amplitude) = ((int)(burst.At * Rate), (float)Math.Pow(10, burst.Level / 20));
            var breaks = LinkNoise.Of((int)(burst.Length * Rate), burst.Cut, noise);
            for (var i = 0; i < breaks.Length; i++) with[at + i] = Math.Clamp((burst.IsOver ? with[at + i] : 0) + amplitude * breaks[i], -0.999f, 0.999f);
        }
        return with;
    }

    private static bool Is(Stretch found, Burst burst, double tolerance = 0.002) =>
        Math.Abs(found.From.Value - burst.At) < tolerance && Math.Abs(found.To.Value - burst.At - burst.Length) < tolerance;

    /// <summary>Twelve bursts in a minute, of 5 ms to 1 s, some over what plays and some in its place.</summary>
    private static List<Burst> Drawn(SeededNoise noise, double over)
    {
        double?[] cuts = [null, 16_000, 8_000];
        return [.. Enumerable.Range(0, 12).Select(i => new Burst(
            1 + 4.8 * i + 3 * noise.Unit(), 0.005 * Math.Pow(200, noise.Unit()), cuts[(int)(3 * noise.Unit())], -22 + over, noise.Unit() < 0.5))];
    }

    // Figures measured by this test, with nothing to spare but for the last place; edges within 2 ms; never anything else.
    [Theory]
    [InlineData("voice", 6, 0.97), InlineData("voice", 0, 0.97), InlineData("voice", -6, 0.9), InlineData("voice", -12, 0.8)]
    [InlineData("horn", 6, 0.97), InlineData("horn", 0, 0.97), InlineData("horn", -6, 0.94), InlineData("horn", -12, 0.6)]
    [InlineData("engine", 6, 0.97), InlineData("engine", 0, 0.97), InlineData("engine", -6, 0.94), InlineData("engine", -12, 0.8)]
    public void Bursts_are_found_where_they_are_while_a_player_plays(string player, double over, double least)
    {
        var sound = LinkNoise.Played(player);
        var noise = new SeededNoise((ulong)(100 + over));
        var (hits, all) = (0, 0);
        for (var night = 0; night < 5; night++)
        {
            var bursts = Drawn(noise, over);
            var found = Found(With(sound, bursts, noise));
            Assert.All(found, one => Assert.Contains(bursts, burst => one.Overlap(new Stretch(new(burst.At - 0.005), new(burst.At + burst.Length + 0.005))) > Score.Seconds.Zero));
            hits += bursts.Count(burst => found.Any(one => Is(one, burst)));
            all += bursts.Count;
        }
        TestContext.Current.SendDiagnosticMessage($"{player} {over} dB: {hits} of {all}");
        Assert.True(hits >= least * all, $"{player}, {over} dB: {hits} of {all}");
    }

    [Theory, InlineData(-20), InlineData(-40), InlineData(-55)]
    public void Bursts_into_silence_and_into_a_resting_feed_are_found(double level)
    {
        var noise = new SeededNoise(5);
        var rest = new float[60 * Rate];
        foreach (var sound in new[] { (float[])rest.Clone(), Hissing(rest) })
        {
            var bursts = Drawn(noise, level + 22);
            var found = Found(With(sound, bursts, noise));
            Assert.True(bursts.Count(burst => found.Any(one => Is(one, burst))) >= 11, $"{level} dB: {string.Join(' ', found)}, not {string.Join(' ', bursts)}");
            Assert.InRange(found.Length, 11, 12);
        }

        float[] Hissing(float[] sound)
        {
            Weather.Add(sound, -70, noise);
            return sound;
        }
    }

    [Theory]
    [InlineData(32_000, 1), InlineData(44_100, 1), InlineData(88_200, 2), InlineData(96_000, 1), InlineData(192_000, 1), InlineData(48_000, 6)]
    public void At_every_rate_and_in_one_channel_of_many(int rate, int channels)
    {
        var noise = new SeededNoise(3);
        var samples = new float[12 * rate * channels];
        for (var i = 0; i < samples.Length; i++)
        {
            var time = (double)(i / channels) / rate;
            samples[i] = 0.0003f * noise.Even() + (float)Enumerable.Range(1, 5).Sum(k => 0.04 * Math.Sin(2 * Math.PI * 220 * k * time + k));
        }
        Burst[] bursts = [new(2, 0.006, null, -20, true), new(4, 0.05, 8000, -20, true), new(7, 0.6, 14_000, -20, true)];
        foreach (var burst in bursts)
        {
            var breaks = LinkNoise.Of((int)(burst.Length * rate), burst.Cut, noise, rate);
            for (var i = 0; i < breaks.Length; i++) samples[((int)(burst.At * rate) + i) * channels + channels - 1] += 0.1f * breaks[i];
        }
        var found = Found(samples, rate, channels);
        Assert.Equal(bursts.Length, found.Length);
        Assert.All(bursts.Zip(found), pair => Assert.True(Is(pair.Second, pair.First), $"{pair.First} as {pair.Second}"));
    }

    // Law: how loud the whole stem is decides nothing, as long as nothing clips or falls under what is listened to.
    [Fact]
    public void A_gain_changes_nothing()
    {
        var noise = new SeededNoise(11);
        var sound = With(LinkNoise.Played("voice"), Drawn(noise, -12), noise);
        var found = Found(sound);
        Assert.True(found.Length >= 9);
        Gen.Double[-30, 0].Sample(gain => Assert.Equal(found, Found([.. sound.Select(sample => sample * (float)Math.Pow(10, gain / 20))])), iter: 8, threads: 1);
    }

    //  s   0   1.5   4        |-- 2.5 s at most --|        a burst that goes on is none of a failing link
    [Fact]
    public void How_long_a_burst_may_be()
    {
        var (noise, rest) = (new SeededNoise(2), new float[30 * Rate]);
        Assert.Single(Found(With(rest, [new(4, 2.4, null, -30, false)], noise)));
        Assert.Empty(Found(With(rest, [new(4, 3, null, -30, false)], noise)));
        Assert.Empty(Found(With(rest, [new(4, 0.002, null, -30, false)], noise)));
    }

    // What is cut into segments to be measured side by side is found as in one: segments end on whole seconds.
    [Fact]
    public void Bursts_across_the_segments_that_are_measured_apart_are_found_whole()
    {
        var noise = new SeededNoise(4);
        var bursts = Enumerable.Range(1, 11).Select(i => new Burst(5 * i - 0.05, 0.1, null, -16, true)).ToList();
        var found = Found(With(LinkNoise.Played("horn"), bursts, noise));
        Assert.All(bursts, burst => Assert.Contains(found, one => Is(one, burst)));
        Assert.Equal(bursts.Count, found.Length);
    }
}
