namespace Mixscore.Planning;

/// <summary>
/// The gains of given knots that lie nearest the middle: a convex quadratic programme, each demand between two
/// neighbours. Solved by an interior-point method with predictor and corrector (Mehrotra, SIAM J. Optim. 2, 1992; from
/// memory, unverified); as each row joins two neighbours its equations are tridiagonal, so a step is O(knots + rows).
/// </summary>
internal sealed class KnotGains
{
    /// <summary>
    /// Weight of a segment's squared move over its length, in dB² a quarter, beside squared distances in dB²: it only
    /// decides where no sample does. Our own.
    /// </summary>
    internal const double Flatness = 1e-6;

    private const int MostSteps = 60;

    private readonly int _count;
    private readonly double[] _diagonal;
    private readonly double[] _beside;
    private readonly double[] _pull;
    private readonly List<Row> _rows = [];

    private KnotGains(LineBand band, ReadOnlySpan<int> beats)
    {
        _count = beats.Length;
        (_diagonal, _beside, _pull) = (new double[_count], new double[_count], new double[_count]);
        var sweep = new LineSweep(band);
        for (var i = 0; i + 1 < _count; i++)
        {
            sweep.Begin(beats[i], band.Possible[beats[i]]);
            for (var b = beats[i]; b < beats[i + 1]; b++) sweep.Extend();
            AddCost(i, sweep.Moments, sweep.Length);
            foreach (ref readonly var edge in sweep.Lines.Corners) AddRow(i, edge, sweep.Length);
        }
    }

    /// <summary>The best gains for knots.</summary>
    /// <param name="band">What they must obey.</param>
    /// <param name="knots">At least two, with gains that obey.</param>
    public static double[] Settle(LineBand band, (int Beat, double Gain)[] knots)
    {
        double[] start = [.. knots.Select(knot => knot.Gain)];
        var programme = new KnotGains(band, [.. knots.Select(knot => knot.Beat)]);
        var found = programme.Solve(start);
        return programme.Within(start, found);
    }

    /// <summary>With w = t / length, a line is (1 − w)·u + w·v.</summary>
    private void AddCost(int i, in Moments sums, double length)
    {
        var (s1, s2, sy) = (sums.T / length, sums.Tt / (length * length), sums.Ty / length);
        var flat = Flatness / length;
        _diagonal[i] += sums.N - 2 * s1 + s2 + flat;
        _diagonal[i + 1] += s2 + flat;
        _beside[i] += s1 - s2 - flat;
        _pull[i] -= sums.Y - sy;
        _pull[i + 1] -= sy;
    }

    private void AddRow(int i, in LinePolygon.Corner edge, double length)
    {
        var (a, b) = (edge.P - edge.R / length, edge.R / length);
        var size = Math.Max(Math.Abs(a), Math.Abs(b));
        _rows.Add(new Row(i, a / size, b / size, edge.C / size));
    }

    private double[] Solve(double[] start)
    {
        double[] x = [.. start];
        var (slack, force) = (new double[_rows.Count], new double[_rows.Count]);
        for (var r = 0; r < slack.Length; r++) (slack[r], force[r]) = (Math.Max(_rows[r].Left(x), 0.1), 1);
        var (dx, ds, df, aim) = (new double[_count], new double[slack.Length], new double[slack.Length], new double[slack.Length]);
        for (var step = 0; step < MostSteps; step++)
        {
            var gap = Gap(slack, force);
            if (gap < 1e-13 && Worst(x, slack) < 1e-11) break;
            Array.Clear(aim);
            Direct(x, slack, force, aim, dx, ds, df);
            var reach = Math.Min(Reach(slack, ds), Reach(force, df));
            var after = 0.0;
            for (var r = 0; r < slack.Length; r++) after += (slack[r] + reach * ds[r]) * (force[r] + reach * df[r]);
            after /= slack.Length;
            var centre = Math.Pow(after / gap, 3) * gap;
            for (var r = 0; r < slack.Length; r++) aim[r] = centre - ds[r] * df[r];
            Direct(x, slack, force, aim, dx, ds, df);
            reach = Math.Min(1, 0.995 * Math.Min(Reach(slack, ds), Reach(force, df)));
            for (var i = 0; i < _count; i++) x[i] += reach * dx[i];
            for (var r = 0; r < slack.Length; r++) (slack[r], force[r]) = (slack[r] + reach * ds[r], force[r] + reach * df[r]);
        }
        return x;
    }

    private static double Gap(double[] slack, double[] force)
    {
        var sum = 0.0;
        for (var r = 0; r < slack.Length; r++) sum += slack[r] * force[r];
        return sum / slack.Length;
    }

    private double Worst(double[] x, double[] slack)
    {
        var worst = 0.0;
        for (var r = 0; r < slack.Length; r++) worst = Math.Max(worst, Math.Abs(_rows[r].Left(x) - slack[r]));
        return worst;
    }

    /// <summary>The longest step, at most 1, that keeps every entry at 0 or above.</summary>
    private static double Reach(double[] values, double[] change)
    {
        var reach = 1.0;
        for (var r = 0; r < values.Length; r++)
            if (change[r] < 0) reach = Math.Min(reach, -values[r] / change[r]);
        return reach;
    }

    /// <summary>Newton's direction for slack · force = aim with the demands met and the pulls in balance.</summary>
    private void Direct(double[] x, double[] slack, double[] force, double[] aim, double[] dx, double[] ds, double[] df)
    {
        var (diagonal, beside) = ((double[])_diagonal.Clone(), (double[])_beside.Clone());
        for (var i = 0; i < _count; i++)
        {
            dx[i] = -_pull[i] - _diagonal[i] * x[i];
            if (i > 0) dx[i] -= _beside[i - 1] * x[i - 1];
            if (i + 1 < _count) dx[i] -= _beside[i] * x[i + 1];
        }
        for (var r = 0; r < slack.Length; r++)
        {
            var row = _rows[r];
            var weight = force[r] / slack[r];
            diagonal[row.I] += weight * row.A * row.A;
            diagonal[row.I + 1] += weight * row.B * row.B;
            beside[row.I] += weight * row.A * row.B;
            var push = (aim[r] - force[r] * row.Left(x)) / slack[r] + force[r];
            dx[row.I] -= row.A * push;
            dx[row.I + 1] -= row.B * push;
        }
        SolveTridiagonal(diagonal, beside, dx);
        for (var r = 0; r < slack.Length; r++)
        {
            var row = _rows[r];
            ds[r] = row.Left(x) - slack[r] - row.A * dx[row.I] - row.B * dx[row.I + 1];
            df[r] = (aim[r] - force[r] * ds[r]) / slack[r] - force[r];
        }
    }

    private static void SolveTridiagonal(double[] diagonal, double[] beside, double[] right)
    {
        var last = diagonal.Length - 1;
        for (var i = 0; i < last; i++)
        {
            var factor = beside[i] / diagonal[i];
            diagonal[i + 1] -= factor * beside[i];
            right[i + 1] -= factor * right[i];
        }
        right[last] /= diagonal[last];
        for (var i = last - 1; i >= 0; i--) right[i] = (right[i] - beside[i] * right[i + 1]) / diagonal[i];
    }

    /// <summary>As far from the start towards the found gains as obeys.</summary>
    private double[] Within(double[] start, double[] found)
    {
        var part = found.All(double.IsFinite) ? 1.0 : 0.0;
        foreach (var row in _rows)
        {
            var (left, then) = (Math.Max(0, row.Left(start)) + BandFit.Rounding, row.Left(found));
            if (part > 0 && then < -BandFit.Rounding) part = Math.Min(part, left / (left - then));
        }
        return part == 0 ? start : [.. start.Zip(found, (a, b) => a + part * (b - a))];
    }

    /// <summary>A·x[I] + B·x[I + 1] ≤ C.</summary>
    private readonly record struct Row(int I, double A, double B, double C)
    {
        /// <summary>How much is left to the bound; below 0 where it is broken.</summary>
        public double Left(double[] x) => C - A * x[I] - B * x[I + 1];
    }
}
