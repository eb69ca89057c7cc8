using CsCheck;
using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public class EnergyTrackTests
{
    // Law: over the meter's own windows the track says what the meter says.
    [Theory, InlineData(48_000), InlineData(44_100), InlineData(37_813)]
    public void The_track_agrees_with_the_meter(int rate)
    {
        var samples = Programmes.Noise(2 * 5 * rate, 0.2, seed: 1);
        for (var i = rate; i < 3 * rate; i++) samples[i] *= 0.01f;
        var track = Track(samples, 2, rate);
        var (meter, grid) = (new LoudnessMeter(new SoundFormat(rate, 2)), new HopGrid(rate));
        for (var hop = 0; hop < 500; hop++)
        {
            meter.Push(samples.AsSpan(2 * (int)grid.Start(hop), 2 * (int)grid.Frames(hop, hop + 1)));
            var now = (hop + 1) * 0.01;
            // Where hops differ by a frame the track gives each the same say; the meter weighs frames.
            var tolerance = rate % 100 == 0 ? 1e-9 : 0.02;
            if (meter.Momentary is { } momentary) Within(tolerance, momentary.Value, track.Loudness(now - 0.4, now)?.Value);
            if (meter.ShortTerm is { } shortTerm) Within(tolerance, shortTerm.Value, track.Centred(now - 1.5, 3)?.Value);
        }
        Assert.NotNull(meter.ShortTerm);
    }

    [Fact]
    public void A_tone_reads_its_level_over_any_span()
    {
        var track = Track(Channels(10, 997, Rate, -20), 1);
        Assert.Equal(0.01, track.HopSeconds);
        Assert.Equal(1000, track.Hops.Length);
        Assert.Equal(10, track.Seconds, 1e-9);
        Gen.Select(Gen.Double[0.2, 9.9], Gen.Double[0.2, 9.9]).Where((a, b) => Math.Abs(a - b) > 0.05).Sample((a, b) =>
            Within(0.03, -23.01, track.Loudness(Math.Min(a, b), Math.Max(a, b))?.Value));
    }

    // Brute force on small tracks: energy is even within a hop and 0 outside.
    [Fact]
    public void A_span_is_the_mean_of_what_it_covers() =>
        Gen.Select(Gen.Double[0, 1].Array[0, 12], Gen.Double[-5, 20], Gen.Double[-5, 20], Gen.Double[0.01, 2])
            .Where((_, a, b, _) => Math.Abs(a - b) > 1e-3).Sample((hops, a, b, hopSeconds) =>
        {
            var (from, to) = (Math.Min(a, b) * hopSeconds, Math.Max(a, b) * hopSeconds);
            var covered = hops.Select((energy, i) =>
                energy * Math.Max(0, Math.Min(to, (i + 1) * hopSeconds) - Math.Max(from, i * hopSeconds))).Sum();
            Assert.Equal(covered / (to - from), EnergyTrack.FromHops(hopSeconds, hops).MeanSquare(from, to), 1e-6);
        });

    // Derived: half of a 3 s window outside a steady sound costs 3.01 LU.
    [Fact]
    public void Outside_the_sound_there_is_silence()
    {
        var track = EnergyTrack.FromHops(0.01, [.. Enumerable.Repeat(0.01, 600)]);
        var inside = track.Centred(3, 3)!.Value;
        Within(1e-4, -3.0103, (track.Centred(0, 3) - inside)?.Value);
        Within(1e-4, -3.0103, (track.Centred(6, 3) - inside)?.Value);
        Assert.Null(track.Loudness(-5, 0));
        Assert.Null(track.Loudness(6, 7));
        Assert.NotNull(track.Loudness(5.99, 7));
    }

    // Silence is exact even right behind a loud hop, though 0.29 / 0.01 is not 29.
    [Fact]
    public void A_silence_behind_a_loud_hop_is_null()
    {
        for (var loud = 1; loud < 200; loud++)
        {
            var track = EnergyTrack.FromHops(0.01, [.. Enumerable.Repeat(1.0, loud), .. new double[10]]);
            Assert.Null(track.Loudness(loud * 0.01, loud * 0.01 + 0.05));
        }
    }

    // Law: whole hops read as the span of time that they are.
    [Fact]
    public void Whole_hops_read_as_their_span_of_time() =>
        Gen.Select(Gen.Double[0, 1].Array[1, 40], Gen.Int[-5, 44], Gen.Int[1, 25]).Sample((hops, from, count) =>
        {
            var track = EnergyTrack.FromHops(0.01, hops);
            Assert.Equal(track.MeanSquare(from * 0.01, (from + count) * 0.01), track.HopsMeanSquare(from, from + count), 1e-12);
            Assert.Throws<ArgumentOutOfRangeException>(() => track.HopsMeanSquare(from, from));
        }, iter: 300);

    // Three hours at full scale must not cost a soft span at -90 LUFS its digits: 1e-6 LU.
    [Fact]
    public void A_soft_span_after_hours_of_loud_ones_keeps_its_digits()
    {
        var (loud, soft) = (1.0 / 3, new Lufs(-90).ToMeanSquare());
        var track = EnergyTrack.FromHops(0.01, [.. Enumerable.Repeat(loud, 1_080_000), .. Enumerable.Repeat(soft, 300)]);
        Within(1e-9, -90, track.Loudness(10_800, 10_803)?.Value);
        Within(1e-9, -90, track.Loudness(10_800.005, 10_800.017)?.Value);
        Within(1e-9, Lufs.FromMeanSquare(loud)!.Value.Value, track.Loudness(0, 10_800)?.Value);
    }

    // Law: gain on the hops is gain on the loudness.
    [Fact]
    public void A_track_times_a_gain_is_as_much_louder()
    {
        var track = Track(Programmes.Noise(3 * Rate, 0.3, seed: 9), 1);
        var gain = Decibels.Of(-7.5);
        var changed = EnergyTrack.FromHops(track.HopSeconds, [.. track.Hops.ToArray().Select(e => e * gain.ToPowerRatio())]);
        Within(1e-9, -7.5, (changed.Loudness(0, 3) - track.Loudness(0, 3))?.Value);
    }

    [Fact]
    public void A_last_hop_that_is_not_full_counts_as_filled_with_silence()
    {
        var samples = Programmes.Noise(Rate + 100, 0.3, seed: 10);
        var track = Track(samples, 1);
        Assert.Equal(101, track.Hops.Length);
        Assert.Equal(Track([.. samples, .. new float[380]], 1).Hops[..100], track.Hops[..100]);
        Assert.InRange(track.Hops[100], 1e-6, track.Hops[..100].ToArray().Average());
        Assert.Empty(Track([], 1).Hops.ToArray());
        Assert.Null(Track([], 1).Loudness(0, 1));
    }

    [Fact]
    public void The_builder_and_the_meter_make_the_same_track()
    {
        var samples = Programmes.Noise(2 * Rate + 222, 0.3, seed: 11);
        var meter = Measured(samples, measures: Measure.Momentary | Measure.EnergyTrack);
        Assert.Equal(Track(samples, 2).Hops, meter.ToEnergyTrack().Hops);
    }

    [Fact]
    public void What_makes_no_track_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => EnergyTrack.FromHops(0, [1]));
        Assert.Throws<ArgumentOutOfRangeException>(() => EnergyTrack.FromHops(double.NaN, [1]));
        Assert.Throws<ArgumentOutOfRangeException>(() => EnergyTrack.FromHops(0.01, [-1e-9]));
        Assert.Throws<ArgumentOutOfRangeException>(() => EnergyTrack.FromHops(0.01, [double.NaN]));
        var track = EnergyTrack.FromHops(0.01, [1]);
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Loudness(1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Loudness(2, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Loudness(double.NaN, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Loudness(0, double.PositiveInfinity));
        Assert.Throws<ArgumentOutOfRangeException>(() => track.Centred(0, 0));
    }

    // However short or long the span, the answer is a number or silence.
    [Theory, InlineData(0, double.Epsilon), InlineData(1 - 1e-12, 1), InlineData(-1e-300, 0), InlineData(-1e308, 1e308)]
    [InlineData(1e307, 1e308), InlineData(0.005, 0.005000000001)]
    public void Odd_spans_have_a_finite_answer(double from, double to) =>
        Assert.InRange(EnergyTrack.FromHops(0.01, [1, 1]).MeanSquare(from, to), 0, 1.01);

    [Fact]
    public void The_hops_are_the_tracks_own()
    {
        double[] hops = [1, 2];
        var track = EnergyTrack.FromHops(0.01, hops);
        hops[0] = 5;
        Assert.Equal(1, track.Hops[0]);
    }

    private static EnergyTrack Track(float[] samples, int channels, int rate = Rate)
    {
        var builder = new EnergyTrackBuilder(new SoundFormat(rate, channels));
        builder.Push(samples);
        return builder.Finish();
    }
}
