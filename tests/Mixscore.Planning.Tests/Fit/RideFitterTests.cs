using CsCheck;
using Mixscore.Loudness;
using Mixscore.Score;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand: a beat is a quarter is a second; at 24 dB/s a fader can move 24 dB a beat.
public sealed class RideFitterTests
{
    [Fact]
    public void A_held_level_and_a_steady_source_give_a_straight_ride() =>
        Assert.Equal("0:-13 80:-13", Spoken(Fitted(Source(Line(Held(0, 80, -18)), _ => -5)).Ride));

    //  -6            o-------
    //                /         12 dB take one beat of 24, three of 5
    // -18  --------o
    [Theory]
    [InlineData(24, "0:-18 15:-18 16:-6 80:-6")]
    [InlineData(5, "0:-18 13:-18 16:-6 80:-6")]
    public void A_step_is_a_move_that_ends_on_its_mark_and_begins_as_early_as_the_speed_needs(double speed, string ride) =>
        Assert.Equal(ride, Spoken(Fitted(Source(Line(Held(0, 16, -18), Held(16, 80, -6)), _ => 0, within: 0.5), speed).Ride));

    // From -60 to -18 are 42 dB: two beats. The same on the way down.
    [Fact]
    public void Out_of_off_and_into_off_are_moves_of_their_own()
    {
        var line = Line(Off(0, 16), Held(16, 64, -18), Off(64, 80));
        Assert.Equal("0:off 14:off 16:-18 62:-18 64:off 80:off", Spoken(Fitted(Source(line, _ => 0)).Ride));
    }

    [Fact]
    public void A_step_off_the_grid_is_done_on_the_last_beat_before_it()
    {
        var half = new Quarters(33, 2);
        var line = Line(
            new LevelSegment.Off(Quarters.Zero, half, null),
            new LevelSegment.Straight(half, new Quarters(80), null, Decibels.Of(-18), Decibels.Of(-18)));
        Assert.Equal("0:off 14:off 16:-18 80:-18", Spoken(Fitted(Source(line, _ => 0)).Ride));
    }

    [Fact]
    public void A_source_that_begins_at_its_level_needs_no_move() =>
        Assert.Equal("0:-18 62:-18 64:off 80:off", Spoken(Fitted(Source(Line(Held(0, 64, -18), Off(64, 80)), _ => 0)).Ride));

    [Fact]
    public void A_source_that_is_never_marked_stays_off() =>
        Assert.Equal("0:off 80:off", Spoken(Fitted(Source(Line(Off(0, 80)), _ => -10)).Ride));

    [Fact]
    public void A_fade_from_off_and_one_to_off_are_straight_from_and_to_the_bottom()
    {
        var fitted = Fitted(Source(Line(Move(0, 16, null, -6), Held(16, 64, -6), Move(64, 80, -6, null)), _ => 3));
        Assert.Equal("0:off 16:-9 64:-9 80:off", Spoken(fitted.Ride));
        Assert.Empty(fitted.Widened);
    }

    [Fact]
    public void A_marked_move_is_followed() =>
        Assert.Equal("0:-18 32:-18 48:-6 80:-6", Spoken(Fitted(Source(Line(Held(0, 32, -18), Move(32, 48, -18, -6), Held(48, 80, -6)), _ => 0, within: 0.5)).Ride));

    [Fact]
    public void A_source_that_rests_is_not_chased()
    {
        // Loud noise in the rest would ask for -40; it is not active there.
        var fitted = Fitted(Source(Line(Held(0, 80, -18)), t => t is > 20 and < 60 ? null : -3));
        Assert.Equal("0:-15 80:-15", Spoken(fitted.Ride));
    }

    [Fact]
    public void A_source_that_is_never_active_stands_at_unity() =>
        Assert.Equal("0:0 80:0", Spoken(Fitted(Source(Line(Held(0, 80, -18)), _ => null)).Ride));

    [Fact]
    public void The_players_own_shaping_inside_the_band_is_left_alone() =>
        Assert.Equal(2, Fitted(Source(Line(Held(0, 80, -18)), t => 1.9 * Math.Sin(t))).Ride.Vertices.Count);

    // The loudness rises where the score is at 40; the stem has it 500 ms later.
    [Fact]
    public void The_ride_moves_with_the_sound()
    {
        var line = Line(Held(0, 80, -18));
        var (straight, late) = (Fitted(Source(line, Rises)), Fitted(Source(line, Rises, delay: 0.5)));
        Assert.Equal(straight.Ride.Vertices.Select(vertex => vertex.At), late.Ride.Vertices.Select(vertex => vertex.At));
        Assert.Equal(Spoken(straight.Ride), Spoken(late.Ride));

        static double? Rises(double t) => Math.Clamp((t - 40) * 5, 0, 10);
    }

    // At 120 a quarter is half a second: 12 dB. Speeding up from 60 to 120 over four beats, each beat is judged by its end.
    [Fact]
    public void Speed_is_judged_through_the_tempo_map()
    {
        var bars = Night.Bars.Bars;
        var tempo = new TempoMap([new TempoPiece(Quarters.Zero, 60), new TempoPiece(new Quarters(4), 60, 120), new TempoPiece(new Quarters(8), 120)]);
        var grid = new FaderGrid(new Timeline(bars, [], tempo), new Limits());
        Assert.Equal([24.0, 24, 24, 24, 24 / 1.25, 24 / 1.5, 24 / 1.75, 12, 12], grid.Steepest[..9].Select(slope => Math.Round(slope, 9)), new Near(1e-6));
    }

    // Where two places for a vertex are nearly even, the search does not promise to choose alike (NearestMiddle): a ride in thousands.
    [Fact]
    public void Three_dB_more_on_the_stem_move_the_ride_three_dB_down()
    {
        var elsewhere = 0;
        Shapes.Sample(shape =>
        {
            var (was, became) = (Fitted(Source(shape.Line, shape.Loudness)).Ride, Fitted(Source(shape.Line, t => shape.Loudness(t) + 3)).Ride);
            if (was.Vertices.Any(vertex => vertex.Gain is null)) return;   // from and to off the bottom stays where it is
            Assert.Equal(was.Vertices.Count, became.Vertices.Count);
            if (!was.Vertices.Select(vertex => vertex.At).SequenceEqual(became.Vertices.Select(vertex => vertex.At)))
            {
                Interlocked.Increment(ref elsewhere);
                return;
            }
            foreach (var (a, b) in was.Vertices.Zip(became.Vertices)) Assert.Equal(a.Gain!.Value.Value - 3, b.Gain!.Value.Value, 1e-3);
        }, iter: 40);
        Assert.InRange(elsewhere, 0, 1);
    }

    [Fact]
    public void A_wider_within_never_adds_a_vertex() =>
        Gen.Select(Shapes, Gen.Double[0, 3]).Sample((shape, more) =>
        {
            var narrow = Fitted(Source(shape.Line, shape.Loudness));
            if (narrow.Widened.Count > 0) return;
            Assert.InRange(Fitted(Source(shape.Line, shape.Loudness, within: 2 + more)).Ride.Vertices.Count, 2, narrow.Ride.Vertices.Count);
        }, iter: 40);

    // Judged from the marks alone: at every active moment that is not within three beats before a step, or while it is off.
    [Fact]
    public void Every_moment_is_within_its_level_unless_it_is_said_to_be_widened() =>
        Shapes.Sample(shape =>
        {
            var fitted = Fitted(Source(shape.Line, shape.Loudness));
            foreach (var t in Enumerable.Range(0, 801).Select(i => i / 10.0))
            {
                if (shape.Loudness(t) is not { } loudness || shape.Line.LevelAt(t) is not { } asked) continue;
                if (shape.Line.Steps.Any(step => step.At.ToDouble() - t is > -1e-9 and < 3)) continue;
                var by = fitted.Widened.Where(stretch => stretch.From.ToDouble() <= t && t <= stretch.To.ToDouble()).Sum(stretch => stretch.By.Value);
                var heard = loudness + fitted.Ride.At(t)!.Value.Value;
                Assert.InRange(heard, asked.Value - 2 - by - 1e-6, asked.Value + 2 + by + 1e-6);
            }
        }, iter: 60);

    /// <summary>Levels held for eight to sixteen beats, some off, and a loudness that wanders by up to 3 dB either way and rests.</summary>
    private static Gen<(LevelLine Line, Func<double, double?> Loudness)> Shapes =>
        from levels in Gen.Int[-6, 1].Array[5]
        from waves in Gen.Double[0, 1.5].Array[2]
        from rates in Gen.Double[0.05, 1].Array[2]
        from rest in Gen.Int[0, 70]
        select (
            Line([.. levels.Select((level, i) => level > 0 ? Night.Off(16 * i, 16 * (i + 1)) : Held(16 * i, 16 * (i + 1), level * 3 - 3))]),
            (Func<double, double?>)(t => t > rest && t < rest + 6 ? null : waves[0] * Math.Sin(t * rates[0]) + waves[1] * Math.Cos(t * rates[1])));

    private sealed class Near(double by) : IEqualityComparer<double>
    {
        public bool Equals(double a, double b) => Math.Abs(a - b) <= by;

        public int GetHashCode(double value) => 0;
    }
}
