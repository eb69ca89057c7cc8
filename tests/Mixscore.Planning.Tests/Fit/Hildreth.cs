namespace Mixscore.Planning.Tests.Fit;

/// <summary>Least ½·xᵀ·2H·x + 2·gᵀ·x under A·x ≤ c, by ascent in one dual variable after another: slow, short, and plainly right.</summary>
internal static class Hildreth
{
    /// <summary>Flat directions are steadied by a pull towards where the last round stood, which fades as the rounds settle.</summary>
    public static double Least(double[,] h, double[] g, List<(double[] A, double C)> rows, out double[] x)
    {
        const double pull = 0.05;
        var n = g.Length;
        var steady = (double[,])h.Clone();
        for (var i = 0; i < n; i++) steady[i, i] += pull;
        var inverse = Invert(steady);
        double[][] reach = [.. rows.Select(row => Apply(inverse, row.A))];
        double[] size = [.. rows.Select((row, r) => Dot(row.A, reach[r]))];
        var force = new double[rows.Count];
        x = new double[n];
        for (var round = 0; round < 300; round++)
        {
            var (x0, before) = (x, x);
            double[] toward = [.. g.Select((v, i) => pull * x0[i] - v)];
            for (var r = 0; r < rows.Count; r++)
                for (var i = 0; i < n; i++) toward[i] -= force[r] * rows[r].A[i];
            x = Apply(inverse, toward);
            for (var sweep = 0; sweep < 2000; sweep++)
            {
                var moved = 0.0;
                for (var r = 0; r < rows.Count; r++)
                {
                    var step = Math.Max(-force[r], (Dot(rows[r].A, x) - rows[r].C) / size[r]);
                    if (step == 0) continue;
                    force[r] += step;
                    for (var i = 0; i < n; i++) x[i] -= step * reach[r][i];
                    moved = Math.Max(moved, Math.Abs(step) * size[r]);
                }
                if (moved < 1e-9) break;
            }
            if (x.Zip(before, (p, q) => Math.Abs(p - q)).Max() < 1e-8) break;
        }
        var value = 0.0;
        for (var i = 0; i < n; i++)
        {
            value += 2 * g[i] * x[i];
            for (var j = 0; j < n; j++) value += x[i] * h[i, j] * x[j];
        }
        return value;
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    private static double[] Apply(double[,] m, double[] v) =>
        [.. Enumerable.Range(0, v.Length).Select(i => Enumerable.Range(0, v.Length).Sum(j => m[i, j] * v[j]))];

    private static double[,] Invert(double[,] m)
    {
        var n = m.GetLength(0);
        var (left, right) = ((double[,])m.Clone(), new double[n, n]);
        for (var i = 0; i < n; i++) right[i, i] = 1;
        for (var i = 0; i < n; i++)
        {
            var pivot = left[i, i];
            for (var j = 0; j < n; j++) (left[i, j], right[i, j]) = (left[i, j] / pivot, right[i, j] / pivot);
            for (var k = 0; k < n; k++)
            {
                if (k == i) continue;
                var factor = left[k, i];
                for (var j = 0; j < n; j++) (left[k, j], right[k, j]) = (left[k, j] - factor * left[i, j], right[k, j] - factor * right[i, j]);
            }
        }
        return right;
    }
}
