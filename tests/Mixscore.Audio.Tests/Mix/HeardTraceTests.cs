using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Mix;

public sealed class HeardTraceTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    // Design, section 6: check renders and measures; the trace must say the same. Tolerance 0.05 LU on 3 s and on bars.
    [Theory]
    [InlineData(0)]
    [InlineData(0.137)]
    public void Is_what_the_meter_reads_on_the_rendered_sound(double delay)
    {
        // Noise that swells and dies twice a second, ridden at up to 24 dB/s.
        var noise = new SeededNoise(11);
        var samples = Enumerable.Range(0, 24 * 48_000).Select(i => (float)(0.3 * (0.55 + 0.45 * Math.Sin(i / 7639.0)) * noise.Even())).ToArray();
        var stem = Sound.Write(_folder["a.wav"], samples);
        var ride = Piece.Ride((0, 0), (4, -12), (5, -36), (6, -12), (10, -12), (10.5, 0), (14, double.NaN), (17, double.NaN), (19.5, -4), (24, 3));
        var timeline = Piece.Of(6);
        var track = new MixTrack(stem, ride, new Seconds(delay), Pan.Centre);
        Mixdown.Render([track], timeline, _folder["mix.wav"], cancellation: TestContext.Current.CancellationToken);
        var rendered = Energy(StemFile.Read(_folder["mix.wav"]));
        var heard = HeardTrace.Of(Energy(stem), ride, timeline.Tempo, new Seconds(delay));
        Assert.Equal(24, heard.Seconds, 1e-9);
        for (var at = 1.5; at < 22.5; at += 0.1) Assert.InRange(Level(heard, at) - Level(rendered, at), -0.05, 0.05);
        for (var bar = 0; bar < 6; bar++)
            Assert.InRange(heard.Loudness(4 * bar, 4 * bar + 4)!.Value.Value - rendered.Loudness(4 * bar, 4 * bar + 4)!.Value.Value, -0.05, 0.05);
    }

    // Derived: the mean power of a gain that is straight in dB from 0 to d is (10^(d/10) - 1) / (d/10 · ln 10).
    [Theory]
    [InlineData(-0.24)]
    [InlineData(-1.2)]
    [InlineData(1.2)]
    public void A_hop_has_the_mean_power_of_its_gain(double decibelsPerHop)
    {
        var hops = EnergyTrack.FromHops(0.01, [1, 1, 1]);
        var ride = Piece.Ride((0, 0), (0.1, 10 * decibelsPerHop));
        var heard = HeardTrace.Of(hops, ride, new TempoMap([new TempoPiece(Quarters.Zero, 60)]), new Seconds(0.01));
        var x = decibelsPerHop / 10 * Math.Log(10);
        var mean = (Math.Exp(x) - 1) / x;
        Assert.Equal(0, 10 * Math.Log10(heard.Hops[0]), 1e-6);
        Assert.Equal(10 * Math.Log10(mean), 10 * Math.Log10(heard.Hops[1]), 4e-3);
        Assert.Equal(10 * Math.Log10(mean) + decibelsPerHop, 10 * Math.Log10(heard.Hops[2]), 4e-3);
    }

    /// <summary>LU of the centred 3 s; what lies under -70 LUFS counts as that.</summary>
    private static double Level(EnergyTrack track, double at) => Math.Max(-70, track.Centred(at, 3)?.Value ?? -70);

    private static EnergyTrack Energy(StemFile file)
    {
        var builder = new EnergyTrackBuilder(file.Format);
        using var reader = file.Open();
        var block = new float[4800 * file.Format.Channels];
        while (reader.Read(block) is > 0 and var count) builder.Push(block.AsSpan(0, count));
        return builder.Finish();
    }
}
