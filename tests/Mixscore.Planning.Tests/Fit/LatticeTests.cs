using CsCheck;

namespace Mixscore.Planning.Tests.Fit;

public sealed class LatticeTests
{
    // Derived: a second solver of another kind, in whole numbers, that brackets the fewest from both sides; where the two sides meet, as in three of four cases, it is the answer.
    [Fact]
    public void On_medium_cases_the_number_of_vertices_is_that_of_a_solver_of_another_kind()
    {
        var (cases, decided) = (0, 0);
        MediumCases.All.Sample(problem =>
        {
            var (atLeast, atMost) = Lattice.Fewest(problem);
            var solution = BandFit.Solve(problem);
            var isRidden = solution.Widened.Count == 0;
            if (isRidden) Assert.InRange(solution.Knots.Count, atLeast ?? int.MaxValue, atMost ?? int.MaxValue);
            else Assert.Null(atMost);
            Interlocked.Increment(ref cases);
            if (atLeast == atMost) Interlocked.Increment(ref decided);
        }, iter: 330, print: Cases.Print);
        Assert.True(decided >= 200, $"only {decided} of {cases} cases were decided");
    }

    // Derived: two solvers that share nothing agree with one another where both can be asked.
    [Fact]
    public void On_small_cases_the_lattice_brackets_the_exhaustive_search() =>
        Cases.Pinned().Sample(problem =>
        {
            if (!StandsOnLattice(problem)) return;
            var (fewest, (atLeast, atMost)) = (new Exhaustive(problem).FewestVertices(), Lattice.Fewest(problem));
            if (fewest is { } count) Assert.InRange(count, atLeast ?? int.MaxValue, atMost ?? int.MaxValue);
            else Assert.Null(atMost);
        }, iter: 500, print: Cases.Print);

    private static bool StandsOnLattice(BandProblem problem) =>
        problem.Beats.Concat(problem.Samples.Select(sample => sample.At)).All(at => at * Lattice.PerQuarter % 1 == 0)
        && problem.Steepest.All(slope => slope * Lattice.PerDb / Lattice.PerQuarter % 1 == 0)
        && !problem.Off.Zip(problem.Off.Skip(1)).Any(pair => pair.First.To + 1 == pair.Second.From);
}
