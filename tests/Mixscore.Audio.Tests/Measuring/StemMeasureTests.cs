using CsCheck;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class StemMeasureTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private StemMeasurement Measure(Feed feed, double delay = 0, int bars = 1, IReadOnlyList<Stretch>? expected = null)
    {
        var file = feed.Write(_folder["a.wav"]);
        var source = Piece.Plan(_folder, ("north.horn", Piece.Site("north", delay), "a.wav")).Sources[0];
        var analysis = SoundAnalysis.OfAll([file], (_, _, e) => throw e, _ => { }, TestContext.Current.CancellationToken)[0];
        return StemMeasure.Of(new SourceStem(source, file), analysis, Piece.Of(bars), expected).Measurement;
    }

    private static void Same((double From, double To)[] expected, IReadOnlyList<Stretch> found, double tolerance)
    {
        Assert.True(expected.Length == found.Count, $"expected {string.Join(' ', expected)}, found {string.Join(' ', found)}");
        foreach (var (e, f) in expected.Zip(found))
        {
            Assert.InRange(f.From.Value, e.From - tolerance, e.From + tolerance);
            Assert.InRange(f.To.Value, e.To - tolerance, e.To + tolerance);
        }
    }

    private sealed record Night((double From, double To)[] Plays, (double From, double To)[] Drops, (double From, double To)[] Active, double Floor, double Level, double Hertz);

    //  play  0.8 to 3 s, rest 0.9 to 2 s, now and then a dropout within the play, 0.3 s or more from its ends
    private static readonly Gen<Night> Nights = Gen.Select(
        Gen.Select(Gen.Double[0.8, 3], Gen.Double[0.9, 2], Gen.Double[0, 1], Gen.Double[0.08, 0.7]).Array[3, 6],
        Gen.Double[-70, -52], Gen.Double[-34, -14], Gen.Double[90, 700]).Select((turns, floor, level, hertz) =>
    {
        var (plays, drops, active) = (new List<(double, double)>(), new List<(double, double)>(), new List<(double, double)>());
        var at = 1.0;
        foreach (var (play, rest, chance, drop) in turns)
        {
            plays.Add((at, at + play));
            if (chance < 0.4 && play > drop + 0.7)
            {
                var from = Math.Round(at + 0.3 + chance * (play - drop - 0.6), 3);
                drops.Add((from, from + drop));
                active.AddRange([(at, from), (from + drop, at + play)]);
            }
            else active.Add((at, at + play));
            at += play + rest;
        }
        return new Night([.. plays], [.. drops], [.. active], floor, level, hertz);
    });

    // Law: what plays and what drops is found, with edges right to 50 ms, whatever the levels. Truth known by construction.
    [Fact]
    public void Playing_and_dropouts_are_found_to_50_ms() => Nights.Sample(night =>
    {
        var feed = new Feed(night.Plays[^1].To + 1, night.Floor);
        foreach (var (from, to) in night.Plays) feed.Plays(from, to, night.Level, night.Hertz);
        foreach (var (from, to) in night.Drops) feed.Drops(from, to);
        var measured = Measure(feed);
        Same(night.Active, measured.Active, 0.05);
        Same(night.Drops, measured.Drops, 0.005);
    }, iter: 12, threads: 1);

    //  s  0     2           5     7           10    12
    //     hiss  |---play----|hiss |---play----|hiss
    [Fact]
    public void The_floor_is_what_is_heard_at_rest()
    {
        var measured = Measure(new Feed(12, -60).Plays(2, 5, -20).Plays(7, 10, -20));
        // White noise at -60 dBFS reads this much on the meter alone.
        var hiss = Measure(new Feed(12, -60)).Integrated!.Value;
        Assert.InRange((measured.NoiseFloor!.Value - hiss).Value, -0.5, 0.5);
        Same([(2, 5), (7, 10)], measured.Active, 0.05);
    }

    // An engine that never stops: soft and loud by 12 dB, and one stretch.
    [Fact]
    public void What_plays_all_the_time_is_one_stretch()
    {
        var measured = Measure(new Feed(30, -70).Plays(-1, 10, -32, 60).Plays(10, 20, -20, 60).Plays(20, 31, -28, 60));
        Same([(0, 30)], measured.Active, 0.05);
        Assert.Empty(measured.Drops);
    }

    // The same with a wider range: from the sound alone its softest could be a floor, the score says that it plays.
    [Fact]
    public void With_the_score_at_hand_a_soft_engine_plays_and_its_idling_does_not()
    {
        var wide = new Feed(30, -75).Plays(-1, 10, -44, 60).Plays(10, 20, -18, 60).Plays(20, 31, -44, 60);
        Same([(0, 30)], Measure(wide, expected: [S(0, 30)]).Active, 0.05);
        Same([(10, 20)], Measure(wide, expected: [S(10, 20)]).Active, 0.05);
    }

    //  A gap of half a second is a breath, one of a whole second a rest.
    [Fact]
    public void Breaths_are_bridged_and_rests_are_not()
    {
        var measured = Measure(new Feed(12, -65).Plays(1, 3, -22).Plays(3.5, 5, -22).Plays(6, 8, -22));
        Same([(1, 5), (6, 8)], measured.Active, 0.05);
    }

    [Fact]
    public void A_gated_feed_rests_in_digital_silence_and_does_not_drop()
    {
        var measured = Measure(new Feed(12, null).Plays(2, 5, -20).Plays(7, 10, -20));
        Same([(2, 5), (7, 10)], measured.Active, 0.05);
        Assert.Empty(measured.Drops);
    }

    //  s  0                    8  8.5                  20
    //     |------- plays ------|  |------- plays -------|     no floor, yet nothing else is silent
    [Fact]
    public void A_silence_in_a_feed_that_never_rests_is_a_dropout()
    {
        var measured = Measure(new Feed(20, null).Plays(-1, 21, -20).Drops(8, 8.5));
        Same([(8, 8.5)], measured.Drops, 0.005);
        Same([(0, 8), (8.5, 20)], measured.Active, 0.05);
    }

    [Fact]
    public void The_score_tells_a_dropout_of_a_gated_feed_from_its_rest()
    {
        var feed = new Feed(14, null).Plays(1, 5, -20).Plays(7, 12, -20).Drops(9, 10);
        Same([(9, 10)], Measure(feed, expected: [S(1, 5), S(7, 12)]).Drops, 0.005);
        Assert.Empty(Measure(feed).Drops);
    }

    // A link that mutes to the hiss of its own receiver, far under the room's.
    [Fact]
    public void A_muted_stretch_is_a_dropout()
    {
        var measured = Measure(new Feed(50, -55).Plays(2, 7, -20).Plays(9, 48, -20).Drops(4, 4.5, -85).Drops(10, 10.2, -85));
        Same([(4, 4.5), (10, 10.2)], measured.Drops, 0.03);
        Same([(2, 4), (4.5, 7), (9, 10), (10.2, 48)], measured.Active, 0.05);
    }

    [Fact]
    public void A_dropout_while_nobody_plays_is_told_too()
    {
        var measured = Measure(new Feed(12, -60).Plays(1, 4, -20).Drops(5, 6).Plays(8, 11, -20));
        Same([(5, 6)], measured.Drops, 0.005);
        Same([(1, 4), (8, 11)], measured.Active, 0.05);
    }

    //  s     0       4       8       12      bars of four seconds, heard half a second late
    //  bars  |---1---|---2---|---3---|
    //  play       2.5---4.5              8.5 - 12.5
    [Fact]
    public void Bars_are_measured_where_they_are_heard()
    {
        var feed = new Feed(14, -75).Plays(2.5, 4.5, -20).Plays(8.5, 12.5, -26);
        var measured = Measure(feed, delay: 0.5, bars: 3);
        Assert.Equal([1, 2, 3], measured.Bars.Select(bar => bar.Index));
        Assert.Null(measured.Bars[1].Loudness);
        // The same buzz, 6 dB apart, each over its active time alone; the swell moves by less than 1.5 dB between them.
        Assert.InRange((measured.Bars[0].Loudness!.Value - measured.Bars[2].Loudness!.Value).Value, 4.5, 7.5);
    }

    [Fact]
    public void Silence_has_no_figures()
    {
        var measured = Measure(new Feed(5, null));
        Assert.Null(measured.Integrated);
        Assert.Null(measured.Range);
        Assert.Null(measured.TruePeak);
        Assert.Null(measured.NoiseFloor);
        Assert.Empty(measured.Active);
        Assert.Empty(measured.Drops);
        Assert.All(measured.Bars, bar => Assert.Null(bar.Loudness));
    }

    [Fact]
    public void Figures_are_the_meters()
    {
        var feed = new Feed(12, -60).Plays(2, 9, -20);
        var measured = Measure(feed);
        var figures = SoundFigures.Of(StemFile.Read(_folder["a.wav"]), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal((figures.Integrated, figures.Range, figures.TruePeak), (measured.Integrated, measured.Range, measured.TruePeak));
    }

    // Law: measured in segments, from a file of 24 bits, a stem reads what one meter reads that hears it from end to end.
    [Fact]
    public void Figures_are_those_of_one_meter_from_end_to_end()
    {
        var feed = new Feed(34, -60).Plays(2, 9, -20).Plays(9.8, 20.5, -30).Plays(29, 33, -14);
        var measured = Measure(feed);
        var file = StemFile.Read(_folder["a.wav"]);
        var meter = new Loudness.LoudnessMeter(file.Format);
        using var reader = file.Open();
        var block = new float[4000];
        while (reader.Read(block) is > 0 and var samples) meter.Push(block.AsSpan(0, samples));
        Assert.Equal(meter.Integrated!.Value.Value, measured.Integrated!.Value.Value, 1e-6);
        Assert.Equal(meter.Range!.Value.Value, measured.Range!.Value.Value, 1e-6);
        Assert.Equal(meter.TruePeak, measured.TruePeak);
    }

    //  s   0       4    5      10     clipped from 4 to 5, and off zero by a hundredth of full scale all the time
    [Fact]
    public void A_stem_that_is_clipped_and_off_zero_says_so()
    {
        var samples = Enumerable.Range(0, 48_000 * 25).Select(i => 0.02f + (i / 48_000 == 4 ? 2f : 0.1f) * MathF.Sin(0.05f * i)).Select(x => Math.Clamp(x, -1, 1)).ToArray();
        var file = Sound.Write(_folder["a.wav"], samples, 48_000);
        var source = Piece.Plan(_folder, ("north.horn", Piece.Site("north", 0), "a.wav")).Sources[0];
        var analysis = SoundAnalysis.OfAll([file], (_, _, e) => throw e, _ => { }, TestContext.Current.CancellationToken)[0];
        var measured = StemMeasure.Of(new SourceStem(source, file), analysis, Piece.Of(1), null);
        Same([(4, 5)], measured.Measurement.Clipped, 0.05);
        Assert.InRange(measured.Measurement.DirectCurrent!.Value.Value, 20 * Math.Log10(0.018), 20 * Math.Log10(0.022));
        Assert.Equal(["MX214", "MX215"], StemMeasure.Warnings([measured]).Select(warning => warning.Code));
        var clean = Measure(new Feed(12, -60).Plays(2, 9, -20));
        Assert.Empty(clean.Clipped);
        Assert.Empty(StemMeasure.Warnings([measured with { Measurement = clean }]));
    }

    //  s   0    2 - 5       6.2 - 6.5    7 - 10     12
    //      hiss |play, 3 - 3.2 noise|  noise  |play|
    [Fact]
    public void Noise_of_the_link_is_no_play_no_floor_and_a_warning()
    {
        var measured = Measure(new Feed(12, -60).Plays(2, 5, -20).Plays(7, 10, -20).Drops(3, 3.2, -25).Drops(6.2, 6.5, -25));
        Same([(3, 3.2), (6.2, 6.5)], measured.Bursts, 0.002);
        Same([(2, 3), (3.2, 5), (7, 10)], measured.Active, 0.05);
        Assert.Empty(measured.Drops);
        var clean = Measure(new Feed(12, -60).Plays(2, 5, -20).Plays(7, 10, -20));
        Assert.InRange((measured.NoiseFloor!.Value - clean.NoiseFloor!.Value).Value, -0.5, 0.5);
        var stem = new MeasuredStem(new SourceStem(Piece.Plan(_folder, ("north.horn", Piece.Site("north", 0), "a.wav")).Sources[0], StemFile.Read(_folder["a.wav"])), measured, Loudness.EnergyTrack.FromHops(0.01, []));
        var warning = Assert.Single(StemMeasure.Warnings([stem]));
        Assert.Equal(("MX216", 10), (warning.Code, warning.Place.Line));
        Assert.Contains("in 2 places, first at 3.000 s for 200 ms", warning.Found, StringComparison.Ordinal);
        Assert.Empty(StemMeasure.Warnings([stem with { Measurement = clean }]));
    }

    [Fact]
    public void Hops_are_active_where_their_middle_is()
    {
        var measured = Measure(new Feed(6, -60).Plays(2, 4, -20)) with { Active = [S(0.014, 0.026), S(0.036, 0.05)] };
        Assert.Equal([false, true, true, false, true, false], measured.ActiveHops(6, 0.01));
    }

    private static Stretch S(double from, double to) => new(new(from), new(to));
}
