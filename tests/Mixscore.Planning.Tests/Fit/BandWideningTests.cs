namespace Mixscore.Planning.Tests.Fit;

// Each case is drawn by hand: a beat a quarter, gains in dB; expected figures derived beside it.
public sealed class BandWideningTests
{
    private static readonly double[] Beats = [0, 1, 2, 3, 4];

    //  +19 |         o o          a band of 17..21 over a fader that tops at +10: 7 dB short
    //  +10 |---------------------
    //    0 | o o o o     o o o
    [Fact]
    public void A_source_too_quiet_for_the_fader_is_widened_by_the_gap()
    {
        var samples = new[] { Sample(0, 0), Sample(1, 8, within: 8), Sample(1.5, 19), Sample(2, 19), Sample(3, 8, within: 8), Sample(4, 0) };
        var stretch = Assert.Single(Solve(samples, steepest: 20).Widened);
        Assert.Equal((2, 3, Because.TooQuiet), (stretch.First, stretch.Last, stretch.Because));
        Assert.Equal(7, stretch.By, 1e-6);
    }

    [Fact]
    public void A_source_too_loud_for_the_fader_is_widened_by_the_gap()
    {
        var stretch = Assert.Single(Solve([Sample(2, -65)], steepest: 20).Widened);
        Assert.Equal((0, 0, Because.TooLoud), (stretch.First, stretch.Last, stretch.Because));
        Assert.Equal(3, stretch.By, 1e-6);
    }

    //    0 |       o     from -20 (±2) at beat 1 to 0 (±2) at beat 3 is 16 dB at least; 2 beats of 5 dB give 10:
    //      |             6 dB are missing, 3 from each end
    //  -20 |   o
    [Fact]
    public void A_move_too_fast_is_widened_alike_at_both_ends()
    {
        var solution = Solve([Sample(1, -20), Sample(3, 0)], steepest: 5);
        var stretch = Assert.Single(solution.Widened);
        Assert.Equal((0, 1, Because.TooFast), (stretch.First, stretch.Last, stretch.Because));
        Assert.Equal(3, stretch.By, 1e-6);
        Assert.Equal((16.0, 1.0, 3.0), (stretch.Move, stretch.MoveFrom, stretch.MoveTo));
    }

    //    0 |    o        three samples within one beat ask for a bend: the line is 0 at best at 1.5, -3 on both sides;
    //   -3 |  o   o      half of the 3 dB less the two widths of 1: 0.5
    [Fact]
    public void A_bend_within_a_beat_is_widened_for_want_of_a_straight_line()
    {
        var stretch = Assert.Single(Solve([Sample(1.25, -3, 1), Sample(1.5, 0, 1), Sample(1.75, -3, 1)], steepest: 100).Widened);
        Assert.Equal((0, 2, Because.TooNarrow), (stretch.First, stretch.Last, stretch.Because));
        Assert.Equal(0.5, stretch.By, 1e-6);
    }

    [Fact]
    public void Two_samples_on_one_beat_that_contradict_are_widened_by_half_the_gap()
    {
        var stretch = Assert.Single(Solve([Sample(0, 0, 1), Sample(0, 6, 1)], steepest: 100).Widened);
        Assert.Equal((0, 1, Because.TooNarrow), (stretch.First, stretch.Last, stretch.Because));
        Assert.Equal(2, stretch.By, 1e-6);
    }

    //  off until beat 1, then from -60 no faster than 10 dB a beat: -40 at beat 3, where -20 (±2) is asked: 18 dB short
    [Fact]
    public void Out_of_off_no_faster_than_the_speed_allows()
    {
        var stretch = Assert.Single(Solve([Sample(3, -20)], steepest: 10, new OffStretch(0, 1)).Widened);
        Assert.Equal(Because.TooFast, stretch.Because);
        Assert.Equal(18, stretch.By, 1e-6);
        Assert.Equal((38.0, 1.0, 3.0), (stretch.Move, stretch.MoveFrom, stretch.MoveTo));
    }

    [Fact]
    public void Between_two_beats_that_are_off_there_is_no_room()
    {
        var solution = Solve([Sample(1.5, -20)], steepest: 10, new OffStretch(0, 1), new OffStretch(2, 4));
        var stretch = Assert.Single(solution.Widened);
        Assert.Equal((Because.NoRoom, 38.0), (stretch.Because, stretch.By));
        Assert.All(solution.Knots, knot => Assert.Null(knot.Gain));
    }

    private static BandSample Sample(double at, double middle, double within = 2) => new(at, middle - within, middle + within, middle);

    private static BandSolution Solve(BandSample[] samples, double steepest, params OffStretch[] off)
    {
        var problem = new BandProblem(Beats, [.. Enumerable.Repeat(steepest, 4)], samples, -60, 10, off);
        var solution = BandFit.Solve(problem);
        if (solution.Widened.All(stretch => stretch.Because != Because.NoRoom)) Obeys.Check(problem, solution);
        return solution;
    }
}
