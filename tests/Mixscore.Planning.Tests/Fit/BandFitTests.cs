using CsCheck;

namespace Mixscore.Planning.Tests.Fit;

public sealed class BandFitTests
{
    // Derived: every set of knots tried, by a method that shares no code. A failure prints its seed and its case.
    [Fact]
    public void The_number_of_vertices_is_that_of_an_exhaustive_search() =>
        Cases.Small().Sample(problem =>
        {
            var fewest = new Exhaustive(problem).FewestVertices();
            var solution = BandFit.Solve(problem);
            Assert.Equal(fewest is null, solution.Widened.Count > 0);
            if (fewest is { } count) Assert.Equal(count, solution.Knots.Count);
        }, iter: 2000, print: Cases.Print);

    // Derived as above, with pins: kept exactly, and the fewest around them.
    [Fact]
    public void With_pins_the_number_of_vertices_is_that_of_an_exhaustive_search() =>
        Cases.Pinned().Sample(problem =>
        {
            var fewest = new Exhaustive(problem).FewestVertices();
            var solution = BandFit.Solve(problem);
            Assert.Equal(fewest is null, solution.Widened.Count > 0);
            if (fewest is { } count) Assert.Equal(count, solution.Knots.Count);
        }, iter: 2000, print: Cases.Print);

    // A pin takes away what is asked on itself alone: everywhere else the ride obeys, or says what was widened.
    [Fact]
    public void A_pin_never_removes_the_obligation_elsewhere() =>
        Cases.Pinned(mostBeats: 14).Sample(problem => Obeys.Check(problem, BandFit.Solve(problem)), iter: 1000, print: Cases.Print);

    // Derived: the bands allow the move to begin on any of four beats; a vertex counts on all but one of them.
    [Fact]
    public void Of_even_choices_the_vertex_stands_where_it_counts_least()
    {
        BandSample[] samples = [new(0, -0.5, 0.5, 0), new(1, -0.5, 0.5, 0), new(6, 11.5, 12.5, 12), new(8, 11.5, 12.5, 12)];
        foreach (var good in (int[])[2, 3])
        {
            var costs = new double[9];
            Array.Fill(costs, 100);
            costs[good] = costs[6] = 0;
            var problem = new BandProblem([0, 1, 2, 3, 4, 5, 6, 7, 8], [9, 9, 9, 9, 9, 9, 9, 9], samples, -60, 20, [], [], costs);
            var knots = BandFit.Solve(problem).Knots;
            Assert.Equal(new Exhaustive(problem).FewestVertices(), knots.Count);
            Assert.Contains(knots, knot => knot.Beat == good);
        }
    }

    // Derived: the gains of the chosen knots are the nearest that these knots allow. Tolerance: 1e-3 dB² in sums of some tens.
    [Fact]
    public void The_gains_are_the_nearest_to_the_middle_for_their_knots() =>
        Cases.Small().Sample(problem =>
        {
            var solution = BandFit.Solve(problem);
            if (solution.Widened.Count > 0) return;
            var least = new Exhaustive(problem).Distance([.. solution.Knots.Select(knot => knot.Beat)]);
            Assert.InRange(Obeys.Distance(problem, solution), least - 1e-3, least + 1e-3);
        }, iter: 200, print: Cases.Print);

    // Derived: an exhaustive search over all knots. The raster of gains may miss the best choice; in one of twenty at most.
    [Fact]
    public void The_knots_are_the_nearest_to_the_middle_of_all_with_the_fewest_vertices()
    {
        var (cases, missed, extra) = (0, 0, 0.0);
        Cases.Open.Sample(problem =>
        {
            var exhaustive = new Exhaustive(problem);
            var best = exhaustive.Best();
            if (best.Count < 2) return;
            var over = Obeys.Distance(problem, BandFit.Solve(problem)) - best.Min(exhaustive.Distance);
            Assert.True(over > -1e-3, $"nearer than the nearest by {-over}");
            lock (this)
            {
                cases++;
                if (over > 1e-3) (missed, extra) = (missed + 1, extra + over);
            }
        }, iter: 400, print: Cases.Print);
        Assert.True(missed * 20 <= cases, $"{missed} of {cases} choices were not the nearest, by {extra} dB² in all");
    }

    [Fact]
    public void A_ride_obeys_everything_but_what_it_says_was_widened() =>
        Cases.Small(mostBeats: 14).Sample(problem => Obeys.Check(problem, BandFit.Solve(problem)), iter: 2000, print: Cases.Print);

    // Derived: the whole problem moved by 3 dB, range and all.
    [Fact]
    public void Everything_moved_by_3_dB_moves_the_ride_by_3_dB() =>
        Cases.Small(mostBeats: 14).Sample(problem =>
        {
            var moved = new BandProblem(
                problem.Beats, problem.Steepest,
                [.. problem.Samples.Select(s => new BandSample(s.At, s.Low - 3, s.High - 3, s.Middle - 3))],
                problem.Bottom - 3, problem.Top - 3, problem.Off);
            if (problem.Samples.Length == 0) return;   // nothing to move with
            var (was, became) = (BandFit.Solve(problem).Knots, BandFit.Solve(moved).Knots);
            Assert.Equal(was.Count, became.Count);
            if (!was.Select(knot => knot.Beat).SequenceEqual(became.Select(knot => knot.Beat))) return;   // an even choice
            foreach (var (a, b) in was.Zip(became))
                if (a.Gain is { } gain) Assert.Equal(gain - 3, b.Gain!.Value, 1e-3);
        }, iter: 500, print: Cases.Print);

    // Derived: every ride that obeys the narrower bands obeys the wider ones.
    [Fact]
    public void Wider_bands_never_add_a_vertex() =>
        Gen.Select(Cases.Small(mostBeats: 14), Gen.Double[0, 3]).Sample((problem, by) =>
        {
            var narrow = BandFit.Solve(problem);
            if (narrow.Widened.Count > 0) return;
            var wide = new BandProblem(
                problem.Beats, problem.Steepest,
                [.. problem.Samples.Select(s => s with { Low = s.Low - by, High = s.High + by })],
                problem.Bottom, problem.Top, problem.Off);
            Assert.InRange(BandFit.Solve(wide).Knots.Count, 0, narrow.Knots.Count);
        }, iter: 500);

    [Fact]
    public void The_same_problem_gives_the_same_ride_to_the_last_bit() =>
        Cases.Small(mostBeats: 14).Sample(problem =>
            Assert.Equal(BandFit.Solve(problem).Knots, BandFit.Solve(problem).Knots), iter: 200, print: Cases.Print);

    // Links with knots at sample times and free values. Derived: linear programmes over all sets of knots, and exhaustive
    // search over a raster of values; errors at the samples only.
    [Theory]
    [InlineData("0 0 0 4 4 4", 1, 3)]
    [InlineData("2.5 1.5 0.5 0.5 1.5 2.5", 0.1, 3)]
    [InlineData("0 1 2 3 2 1 0", 0.5, 2)]
    [InlineData("0 1 2 3 2 1 0", 1.5, 1)]
    [InlineData("-20 -20 -18 -14 -8 -8 -8 -14 -20", 1, 4)]
    public void Worked_examples_have_their_number_of_links(string values, double within, int links)
    {
        double[] y = [.. values.Split(' ').Select(double.Parse)];
        double[] beats = [.. Enumerable.Range(0, y.Length).Select(i => (double)i)];
        var problem = new BandProblem(
            beats, [.. Enumerable.Repeat(1000.0, y.Length - 1)],
            [.. y.Select((value, i) => new BandSample(i, value - within, value + within, value))], -60, 60, []);
        var solution = BandFit.Solve(problem);
        Assert.Empty(solution.Widened);
        Assert.Equal(links, solution.Knots.Count - 1);
    }

    // Derived: the middle itself has its corners on beats, and no ride with fewer knots keeps within 0.25.
    [Fact]
    public void A_free_ride_through_the_middle_is_taken_where_there_is_one()
    {
        double[] y = [-4, -4, -4, -2, 0, 0];
        var problem = new BandProblem(
            [0, 1, 2, 3, 4, 5], [9, 9, 9, 9, 9], [.. y.Select((value, i) => new BandSample(i, value - 0.25, value + 0.25, value))], -60, 10, []);
        Assert.Equal([0, 2, 4, 5], BandFit.Solve(problem).Knots.Select(knot => knot.Beat));
        foreach (var knot in BandFit.Solve(problem).Knots) Assert.Equal(y[knot.Beat], knot.Gain!.Value, 1e-4);
    }
}
