namespace Mixscore.Planning.Tests.Fit;

/// <summary>Judges a ride against a problem, knot by knot and sample by sample, from the words of the problem alone.</summary>
internal static class Obeys
{
    private const double Hair = 1e-6;

    public static void Check(BandProblem problem, BandSolution solution)
    {
        var knots = solution.Knots;
        Assert.Equal(0, knots[0].Beat);
        Assert.Equal(problem.Beats.Length - 1, knots[^1].Beat);
        for (var i = 0; i < knots.Count; i++)
        {
            Assert.True(i == 0 || knots[i].Beat > knots[i - 1].Beat);
            Assert.Equal(problem.Off.Any(off => off.From == knots[i].Beat || off.To == knots[i].Beat), knots[i].Gain is null);
            Assert.DoesNotContain(problem.Off, off => off.From < knots[i].Beat && knots[i].Beat < off.To);
            if (knots[i].Gain is { } gain) Assert.InRange(gain, problem.Bottom, problem.Top);
        }
        foreach (var off in problem.Off)
            Assert.True(knots.Any(knot => knot.Beat == off.From) && knots.Any(knot => knot.Beat == off.To));
        foreach (var pin in problem.Pins)
        {
            Assert.Contains(new Knot(pin.From, pin.Start), knots);
            Assert.Contains(new Knot(pin.To, pin.End), knots);
            Assert.DoesNotContain(knots, knot => pin.From < knot.Beat && knot.Beat < pin.To);
        }
        for (var i = 0; i + 1 < knots.Count; i++)
        {
            var (a, b) = (knots[i], knots[i + 1]);
            if (a.Gain is null && b.Gain is null) continue;
            var slope = ((b.Gain ?? problem.Bottom) - (a.Gain ?? problem.Bottom)) / (problem.Beats[b.Beat] - problem.Beats[a.Beat]);
            for (var beat = a.Beat; beat < b.Beat; beat++) Assert.InRange(Math.Abs(slope), 0, problem.Steepest[beat] + Hair);
            for (var s = 0; s < problem.Samples.Length; s++)
            {
                var at = problem.Samples[s].At;
                if (at < problem.Beats[a.Beat] || at > problem.Beats[b.Beat]) continue;
                if (problem.Off.Any(off => problem.Beats[off.From] <= at && at <= problem.Beats[off.To])) continue;
                if (problem.Pins.Any(pin => problem.Beats[pin.From] <= at && at <= problem.Beats[pin.To])) continue;
                var value = (a.Gain ?? problem.Bottom) + slope * (at - problem.Beats[a.Beat]);
                Assert.InRange(value, solution.Low[s] - Hair, solution.High[s] + Hair);
            }
        }
        for (var s = 0; s < problem.Samples.Length; s++)
        {
            var by = Math.Max(problem.Samples[s].Low - solution.Low[s], solution.High[s] - problem.Samples[s].High);
            Assert.InRange(by, 0, double.MaxValue);
            if (by > Hair) Assert.Contains(solution.Widened, stretch => stretch.First <= s && s <= stretch.Last && stretch.By > 0);
        }
    }

    /// <summary>The sum of squared distances from the middles, over the samples that are heeded.</summary>
    public static double Distance(BandProblem problem, BandSolution solution)
    {
        var sum = 0.0;
        foreach (var sample in problem.Samples)
        {
            if (problem.Off.Any(off => problem.Beats[off.From] <= sample.At && sample.At <= problem.Beats[off.To])) continue;
            var next = Enumerable.Range(1, solution.Knots.Count - 1).First(i => sample.At <= problem.Beats[solution.Knots[i].Beat]);
            var (a, b) = (solution.Knots[next - 1], solution.Knots[next]);
            var (u, v) = (a.Gain ?? problem.Bottom, b.Gain ?? problem.Bottom);
            var part = (sample.At - problem.Beats[a.Beat]) / (problem.Beats[b.Beat] - problem.Beats[a.Beat]);
            sum += Math.Pow(u + (v - u) * part - sample.Middle, 2);
        }
        return sum;
    }
}
