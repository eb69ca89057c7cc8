using Mixscore.Score;

namespace Mixscore.Audio.Tests.Mix;

public sealed class MixdownTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private MixResult Render(Timeline timeline, params MixTrack[] tracks) => Mixdown.Render(tracks, timeline, _folder["mix.wav"], cancellation: TestContext.Current.CancellationToken);

    private static SoundFigures Measured(StemFile file) => SoundFigures.Of(file, cancellation: TestContext.Current.CancellationToken);

    /// <summary>The left samples of the mix from one moment to another.</summary>
    private float[] Left(double from, double to, int side = 0)
    {
        var all = Sound.Read(_folder["mix.wav"]);
        return [.. Enumerable.Range((int)Math.Round(from * 48_000), (int)Math.Round((to - from) * 48_000)).Select(i => all[2 * i + side])];
    }

    //  s  0         4         8         12        at 60 a minute a quarter is a second
    //  dB -6 ------ -6 \____ -18 ----- -18       a ramp over bar 2
    [Theory]
    [InlineData(0)]
    [InlineData(0.25)]
    public void A_tone_through_a_ride_comes_out_at_the_computed_level(double delay)
    {
        var stem = Sound.Write(_folder["a.wav"], Sound.Tone(1000, 0.5, 12.5));
        Render(Piece.Of(3), new MixTrack(stem, Piece.Ride((0, -6), (4, -6), (8, -18), (12, -18)), new Seconds(delay), Pan.Of(-1)));
        var whole = 20 * Math.Log10(0.5);
        Within(whole - 6, Sound.Level(Left(1, 3)));
        Within(whole - 18, Sound.Level(Left(9, 11)));
        // Derived: over one period of 1 ms in the middle of the ramp the gain moves by 0.003 dB about its middle.
        foreach (var at in new[] { 4.5, 6.0, 7.5 })
            Within(whole - 6 - 3 * (at - 4), Sound.Level(Left(at + delay - 0.0005, at + delay + 0.0005)));

        static void Within(double expected, double level) => Assert.InRange(level - expected, -0.01, 0.01);
    }

    // Derived: a tempo straight over quarters from 120 to 60 passes 4 of 8 quarters after 60 · 8/60 · ln(120/90) s.
    [Fact]
    public void A_ride_is_straight_over_quarters_where_the_tempo_changes()
    {
        var timeline = Piece.Of(2, new TempoPiece(Quarters.Zero, 120, 60), new TempoPiece(new Quarters(8), 60));
        var stem = Sound.Write(_folder["a.wav"], Sound.Tone(1000, 0.5, 6));
        Render(timeline, new MixTrack(stem, Piece.Ride((0, 0), (8, -24)), Seconds.Zero, Pan.Of(-1)));
        var middle = 8 * Math.Log(120.0 / 90);
        Assert.InRange(Sound.Level(Left(middle - 0.0005, middle + 0.0005)) - 20 * Math.Log10(0.5) + 12, -0.01, 0.01);
    }

    //  s  0    4    8    12   16
    //  dB off--off  0 -- 0 -- off       from the bottom, -60, up to 0; and down again
    [Fact]
    public void An_end_that_is_off_runs_to_the_bottom_and_is_silent_beyond()
    {
        var stem = Sound.Write(_folder["a.wav"], Sound.Tone(1000, 0.5, 20));
        Render(Piece.Of(5), new MixTrack(stem, Piece.Ride((0, double.NaN), (4, double.NaN), (8, 0), (12, 0), (16, double.NaN), (20, double.NaN)), Seconds.Zero, Pan.Of(-1)));
        Assert.All(Left(0, 4), sample => Assert.Equal(0, sample));
        Assert.All(Left(16.001, 20), sample => Assert.Equal(0, sample));
        var whole = 20 * Math.Log10(0.5);
        Assert.InRange(Sound.Level(Left(5.9995, 6.0005)) - whole, -30.02, -29.98);
        Assert.InRange(Sound.Level(Left(9, 11)) - whole, -0.01, 0.01);
        Assert.InRange(Sound.Level(Left(14.9995, 15.0005)) - whole, -45.02, -44.98);
    }

    // BS.1770 sums the energies of the channels; two at -3.01 dB make one at 0 dB. Tolerance 0.01 LU.
    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(0.37)]
    public void A_mono_stem_is_as_loud_in_the_mix_as_it_measures_alone(double position)
    {
        var stem = Sound.Write(_folder["a.wav"], Sound.Tone(1000, 0.3, 8));
        var alone = Measured(stem);
        var mix = Render(Piece.Of(2), new MixTrack(stem, Piece.Ride((0, 0), (8, 0)), Seconds.Zero, Pan.Of(position)));
        Assert.NotNull(alone.Integrated);
        Assert.InRange((mix.Figures.Integrated!.Value - alone.Integrated.Value).Value, -0.01, 0.01);
        Assert.InRange((mix.Figures.Integrated.Value - Measured(StemFile.Read(_folder["mix.wav"])).Integrated!.Value).Value, -0.01, 0.01);
    }

    // Derived: channels that have nothing in common keep their weighted energies. LFE is left out of loudness and of the mix.
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    public void A_stem_of_several_channels_is_as_loud_in_the_mix_as_it_measures_alone(int channels)
    {
        var noise = new SeededNoise(3);
        var stem = Sound.Write(_folder["a.wav"], [.. Enumerable.Range(0, 8 * 48_000 * channels).Select(_ => 0.1f * noise.Even())], channels: channels);
        var mix = Render(Piece.Of(2), new MixTrack(stem, Piece.Ride((0, 0), (8, 0)), Seconds.Zero, Pan.Centre));
        Assert.InRange((mix.Figures.Integrated!.Value - Measured(stem).Integrated!.Value).Value, -0.1, 0.1);
    }

    [Fact]
    public void Stems_add_sample_by_sample()
    {
        var (a, b) = (Sound.Write(_folder["a.wav"], Sound.Tone(440, 0.3, 4)), Sound.Write(_folder["b.wav"], Sound.Tone(997, 0.4, 3)));
        var flat = Piece.Ride((0, 0), (4, 0));
        var mix = Render(Piece.Of(1), new MixTrack(a, flat, Seconds.Zero, Pan.Of(-1)), new MixTrack(b, flat, Seconds.Zero, Pan.Of(-1)));
        var (first, second, both) = (Sound.Read(a.Path), Sound.Read(b.Path), Left(0, 4));
        for (var i = 0; i < both.Length; i++) Assert.Equal(first[i] + (i < second.Length ? second[i] : 0), both[i], 1.5e-7);
        Assert.All(Left(0, 4, side: 1), sample => Assert.Equal(0, sample));
        Assert.Equal(0, mix.Clipped);
    }

    [Fact]
    public void Clipping_is_counted()
    {
        var stem = Sound.Write(_folder["a.wav"], Sound.Tone(1000, 0.9, 4));
        var mix = Render(Piece.Of(1), new MixTrack(stem, Piece.Ride((0, 6), (4, 6)), Seconds.Zero, Pan.Of(-1)));
        // Derived: a sine of 1.8 lies beyond 1 for 1 - 2/pi · asin(1/1.8) of the time.
        Assert.InRange(mix.Clipped / (4.0 * 48_000), 0.62, 0.64);
        Assert.InRange(mix.Figures.TruePeak!.Value.Value, 5.0, 5.2);
    }

    //  The stems of two sites with a click at 1 s of the score, heard 0.1 s and 0.3 s later.
    [Theory]
    [InlineData(Alignment.AsItArrives, new[] { 1.1, 1.3 })]
    [InlineData(Alignment.ByTheClick, new[] { 1.0 })]
    public void Delays_stay_or_are_taken_out(Alignment alignment, double[] expected)
    {
        var flat = Piece.Ride((0, 0), (4, 0));
        var tracks = new[] { 0.1, 0.3 }.Select(delay =>
        {
            var samples = new float[5 * 48_000];
            samples[(int)Math.Round((1 + delay) * 48_000)] = 0.25f;
            return new MixTrack(Sound.Write(_folder[$"{delay}.wav"], samples), flat, new Seconds(delay), Pan.Of(-1));
        }).ToList();
        Mixdown.Render(tracks, Piece.Of(1), _folder["mix.wav"], alignment, cancellation: TestContext.Current.CancellationToken);
        var left = Left(0, 4);
        Assert.Equal(expected, Enumerable.Range(0, left.Length).Where(i => left[i] != 0).Select(i => i / 48_000.0));
    }

    //  A piece of 4 s, heard 0.5 s late.
    [Theory]
    [InlineData(2, 4.5)]
    [InlineData(5, 5)]
    [InlineData(60, 7.5)]
    public void The_mix_is_as_long_as_the_piece_and_what_rings_on(double stem, double mix)
    {
        var file = Sound.Write(_folder["a.wav"], new float[(int)(stem * 48_000)]);
        var result = Render(Piece.Of(1), new MixTrack(file, Piece.Ride((0, 0), (4, 0)), new Seconds(0.5), Pan.Centre));
        Assert.Equal(mix, result.Figures.Duration.Value, 1e-4);
        Assert.Equal(mix, StemFile.Read(_folder["mix.wav"]).Duration.Value, 1e-4);
    }

    [Fact]
    public void A_cancelled_mix_leaves_nothing()
    {
        var file = Sound.Write(_folder["a.wav"], new float[8 * 48_000]);
        using var stop = new CancellationTokenSource();
        var told = new Told(value => { if (value > 0.2) stop.Cancel(); });
        var track = new MixTrack(file, Piece.Ride((0, 0), (8, 0)), Seconds.Zero, Pan.Centre);
        Assert.ThrowsAny<OperationCanceledException>(() => Mixdown.Render([track], Piece.Of(2), _folder["mix.wav"], progress: told, cancellation: stop.Token));
        Assert.Equal(["a.wav"], _folder.Names);
    }

    private sealed class Told(Action<double> then) : IProgress<double>
    {
        public void Report(double value) => then(value);
    }
}
