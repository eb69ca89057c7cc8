namespace Mixscore.Planning.Tests.Fit;

/// <summary>
/// The fit by trying every set of knots, for small problems. Whether a set can be ridden is found by Fourier–Motzkin
/// elimination of one gain after another; how near the middle it can come by cyclic projections in the dual (Hildreth).
/// Shares no line with what it judges.
/// </summary>
internal sealed class Exhaustive(BandProblem problem)
{
    private const double Hair = 1e-7;

    /// <summary>The fewest vertices, or <c>null</c> where nothing obeys.</summary>
    public int? FewestVertices() => Best().FirstOrDefault()?.Length;

    /// <summary>All sets of knots with the fewest vertices that obey.</summary>
    public List<int[]> Best()
    {
        var last = problem.Beats.Length - 1;
        var free = new List<int>();
        for (var i = 1; i < last; i++)
            if (!problem.Off.Any(off => off.From <= i && i <= off.To) && !problem.Pins.Any(pin => pin.From <= i && i <= pin.To)) free.Add(i);
        int[] set = [.. problem.Off.SelectMany(off => new[] { off.From, off.To }).Concat(problem.Pins.SelectMany(pin => new[] { pin.From, pin.To })).Append(0).Append(last).Distinct()];
        for (var extra = 0; extra <= free.Count; extra++)
        {
            var found = new List<int[]>();
            for (var mask = 0; mask < 1 << free.Count; mask++)
            {
                if (int.PopCount(mask) != extra) continue;
                int[] knots = [.. set.Concat(free.Where((_, i) => (mask >> i & 1) == 1)).Order()];
                if (CanRide(knots)) found.Add(knots);
            }
            if (found.Count > 0) return found;
        }
        return [];
    }

    /// <summary>The least squared distance from the middle of a ride with these knots.</summary>
    public double Distance(int[] knots)
    {
        var n = knots.Length;
        var (h, g, constant) = (new double[n, n], new double[n], 0.0);
        foreach (var sample in problem.Samples)
        {
            if (IsOff(sample.At)) continue;
            if (IsPinned(sample.At)) continue;
            var i = Enumerable.Range(0, n - 1).First(k => sample.At <= problem.Beats[knots[k + 1]]);
            var w = (sample.At - problem.Beats[knots[i]]) / (problem.Beats[knots[i + 1]] - problem.Beats[knots[i]]);
            h[i, i] += (1 - w) * (1 - w);
            h[i, i + 1] += w * (1 - w);
            h[i + 1, i] += w * (1 - w);
            h[i + 1, i + 1] += w * w;
            g[i] -= (1 - w) * sample.Middle;
            g[i + 1] -= w * sample.Middle;
            constant += sample.Middle * sample.Middle;
        }
        var rows = new List<(double[] A, double C)>();
        for (var i = 0; i + 1 < n; i++)
            foreach (var (a, b, c) in Demands(knots[i], knots[i + 1]))
            {
                var row = new double[n];
                (row[i], row[i + 1]) = (a, b);
                rows.Add((row, c));
            }
        return Hildreth.Least(h, g, rows, out _) + constant;
    }

    private bool CanRide(int[] knots)
    {
        var (low, high) = At(knots[0]);
        for (var i = 0; i + 1 < knots.Length; i++)
        {
            var (a, b) = (knots[i], knots[i + 1]);
            if (IsOffBeat(a) && IsOffBeat(b))
            {
                // Apart, they need a knot between on which the fader is open, unless there is no beat and nothing is asked.
                var isOne = problem.Off.Any(off => off.From <= a && b <= off.To);
                if (!isOne && (b > a + 1 || problem.Samples.Any(s => problem.Beats[a] < s.At && s.At < problem.Beats[b]))) return false;
                (low, high) = (problem.Bottom, problem.Bottom);
                continue;
            }
            if (problem.Pins.Any(pin => pin.From <= a && b <= pin.To))
            {
                (low, high) = At(b);
                continue;
            }
            var demands = Demands(a, b);
            demands.Add((1, 0, high));
            demands.Add((-1, 0, -low));
            (low, high) = Eliminate(demands);
            if (low > high + Hair) return false;
        }
        return true;
    }

    /// <summary>The range of v that a·u + b·v ≤ c leaves when u is eliminated.</summary>
    private static (double Low, double High) Eliminate(List<(double A, double B, double C)> demands)
    {
        var (low, high) = (double.NegativeInfinity, double.PositiveInfinity);
        foreach (var (a, b, c) in demands.Where(d => d.A == 0)) Take(b, c);
        foreach (var above in demands.Where(d => d.A > 0))
            foreach (var below in demands.Where(d => d.A < 0))
                Take(above.B / above.A - below.B / below.A, above.C / above.A - below.C / below.A);
        return (low, high);

        void Take(double b, double c)
        {
            if (b > 1e-12) high = Math.Min(high, c / b);
            else if (b < -1e-12) low = Math.Max(low, c / b);
            else if (c < -Hair) (low, high) = (1, -1);
        }
    }

    /// <summary>What a segment from u on one beat to v on another must keep, as a·u + b·v ≤ c.</summary>
    private List<(double A, double B, double C)> Demands(int from, int to)
    {
        var demands = new List<(double, double, double)>();
        var (start, length) = (problem.Beats[from], problem.Beats[to] - problem.Beats[from]);
        var ((lowU, highU), (lowV, highV)) = (At(from), At(to));
        demands.AddRange([(1, 0, highU), (-1, 0, -lowU), (0, 1, highV), (0, -1, -lowV)]);
        for (var i = from; i < to; i++)
        {
            demands.Add((-1, 1, problem.Steepest[i] * length));
            demands.Add((1, -1, problem.Steepest[i] * length));
        }
        foreach (var sample in problem.Samples)
        {
            if (sample.At < start || sample.At > problem.Beats[to] || IsOff(sample.At) || IsPinned(sample.At)) continue;
            var w = (sample.At - start) / length;
            demands.Add((1 - w, w, sample.High));
            demands.Add((w - 1, -w, -sample.Low));
        }
        return demands;
    }

    /// <summary>What may stand on a beat by itself: the pin, the bottom where it is off, or the fader's range.</summary>
    private (double Low, double High) At(int beat)
    {
        foreach (var pin in problem.Pins)
            if (beat == pin.From) return (pin.Start, pin.Start);
            else if (beat == pin.To) return (pin.End, pin.End);
        return IsOffBeat(beat) ? (problem.Bottom, problem.Bottom) : (problem.Bottom, problem.Top);
    }

    private bool IsPinned(double at) => problem.Pins.Any(pin => problem.Beats[pin.From] <= at && at <= problem.Beats[pin.To]);

    private bool IsOffBeat(int beat) => problem.Off.Any(off => off.From <= beat && beat <= off.To);

    private bool IsOff(double at) => problem.Off.Any(off => problem.Beats[off.From] <= at && at <= problem.Beats[off.To]);
}
