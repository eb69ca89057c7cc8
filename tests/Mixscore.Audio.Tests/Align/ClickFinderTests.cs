using CsCheck;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Align;

/// <summary>Recordings are made by a renderer of its own, click by click at real-numbered times, so that the finder is not compared with the writer.</summary>
public sealed class ClickFinderTests
{
    private const int Rate = 48_000;

    // Asked: offset to 1 ms and drift to 1 ppm over the piece; noise as loud as the clicks (0 dB), a tenth of the clicks missing.
    [Theory]
    [InlineData(0, 0)]
    [InlineData(2.3456789, 0)]
    [InlineData(0.75, 37)]
    [InlineData(5.1, -93)]
    [InlineData(-1.5, 250)]
    public void Offset_and_drift_are_found_in_noise_with_clicks_missing(double start, double drift)
    {
        var times = ClickTimes.Of(Piece.Of(60, new TempoPiece(Quarters.Zero, 84, 72), new TempoPiece(new Quarters(120), 96)), new ClickSettings());
        var found = ClickFinder.Find(Recording(times, start, drift, noise: true, missing: 0.1, seed: 1), Rate, times);
        Assert.NotNull(found);
        Assert.Equal(start, found.Start.Value, 0.0001);
        Assert.Equal(drift, found.Drift, 0.5);
        Assert.InRange(found.Heard, 0.8 * found.Expected, found.Expected);
    }

    // One tempo all the way: shifted by a bar the click is nearly itself. The edges decide.
    [Fact]
    public void A_steady_click_is_not_found_a_bar_away() =>
        Gen.Select(Gen.OneOf(Gen.Const(0.0), Gen.Double[-3, 6]), Gen.Double[-150, 150], Gen.Int[1, 1000]).Sample((start, drift, seed) =>
        {
            var times = ClickTimes.Of(Piece.Of(30, new TempoPiece(Quarters.Zero, 120)), new ClickSettings());
            var found = ClickFinder.Find(Recording(times, start, drift, noise: true, missing: 0.1, seed), Rate, times);
            Assert.NotNull(found);
            Assert.Equal(start, found.Start.Value, 0.001);
            Assert.Equal(drift, found.Drift, 1.0);
        }, iter: 5, threads: 1);

    [Fact]
    public void A_recording_upside_down_and_subdivided_is_found()
    {
        var times = ClickTimes.Of(Piece.Of(24, new TempoPiece(Quarters.Zero, 66, 90), new TempoPiece(new Quarters(50), 90)), new ClickSettings { Subdivide = 2 });
        var recording = Recording(times, 1.25, 12, noise: false, missing: 0, seed: 3).Select(sample => -0.3f * sample).ToArray();
        var found = ClickFinder.Find(recording, Rate, times);
        Assert.NotNull(found);
        Assert.Equal(1.25, found.Start.Value, 0.00005);
        Assert.Equal(12, found.Drift, 0.5);
    }

    [Fact]
    public void Our_own_file_is_found_where_write_says_that_it_begins()
    {
        using var folder = new Folder();
        var times = ClickTimes.Of(Piece.Of(20, new TempoPiece(Quarters.Zero, 72)), new ClickSettings());
        ClickTrack.Write(folder["click.wav"], times);
        var found = ClickFinder.Find(Sound.Read(folder["click.wav"]), Rate, times);
        Assert.NotNull(found);
        Assert.Equal(times.Lead.Value, found.Start.Value, 0.5 / Rate);
        Assert.Equal(0, found.Drift, 0.1);
        Assert.Equal(found.Expected, found.Heard);
    }

    [Fact]
    public void Noise_music_and_silence_hold_no_click()
    {
        var times = ClickTimes.Of(Piece.Of(12, new TempoPiece(Quarters.Zero, 100)), new ClickSettings());
        var noise = new SeededNoise(5);
        Assert.Null(ClickFinder.Find(Enumerable.Range(0, 30 * Rate).Select(_ => 0.2f * noise.Even()).ToArray(), Rate, times));
        Assert.Null(ClickFinder.Find(Sound.Tone(440, 0.3, 30), Rate, times));
        Assert.Null(ClickFinder.Find(new float[30 * Rate], Rate, times));
        Assert.Null(ClickFinder.Find([], Rate, times));
    }

    /// <summary>
    /// What a recorder hears whose piece begins at a time and whose clock is fast by so many parts per million. Noise is
    /// white and has, in each click's own length, the mean power of that of an accent: 0 dB.
    /// </summary>
    private static float[] Recording(ClickTimes times, double start, double drift, bool noise, double missing, int seed)
    {
        var random = new SeededNoise((ulong)seed);
        var samples = new float[(int)((start + (1 + drift * 1e-6) * times.Duration.Value + 3) * Rate)];
        foreach (var stroke in times.Strokes)
        {
            if (random.Unit() < missing) continue;
            var at = (start + (1 + drift * 1e-6) * stroke.Time.Value) * Rate;
            var (hertz, peak, decay) = stroke.Kind switch
            {
                ClickKind.Accent => (2000.0, 0.501, 0.006),
                ClickKind.Beat => (1400.0, 0.355, 0.005),
                _ => (1000.0, 0.178, 0.003),
            };
            for (var i = Math.Max(0, (long)Math.Ceiling(at)); i < Math.Min(samples.Length, at + 0.05 * Rate); i++)
                samples[i] += (float)(peak * Math.Exp(-(i - at) / Rate / decay) * Math.Cos(2 * Math.PI * hertz * (i - at) / Rate));
        }
        if (!noise) return samples;
        // An accent of peak p and decay d has the mean square p²/4·(d/T) over a length of T = 3d.
        var power = 0.501 * 0.501 / 4 / 3;
        var height = (float)Math.Sqrt(3 * power);
        for (var i = 0; i < samples.Length; i++) samples[i] += height * random.Even();
        return samples;
    }
}
