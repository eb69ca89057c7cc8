namespace Mixscore.Planning;

/// <summary>
/// Least ½·xᵀ·H·x + g·x under rows that each join two neighbours: exact, in finitely many steps. H is tridiagonal and
/// positive definite.
/// </summary>
/// <remarks>
/// The dual method of Goldfarb and Idnani (Mathematical Programming 27, 1983; from memory, unverified): it begins at the
/// free minimum and takes in one broken row after another, dropping those that no longer press, so that it needs no
/// point that obeys to begin with, and tells when there is none. The inverse of L falls off by a steady factor a place, so
/// that a row touches few columns of J, whatever n is; columns that it does not touch are not turned, only put in order.
/// A step is thereby O(n) but for the triangle's own back substitution, which is O(rows that press²).
/// </remarks>
internal sealed class NearestPoint
{
    private const double Dependent = 1e-11;

    /// <summary>What is smaller than this beside a column's greatest is far under its rounding.</summary>
    private const double Nothing = 1e-20;

    private readonly int _n;
    private readonly IReadOnlyList<Row> _rows;
    private readonly double[] _x;
    private readonly double[][] _j;          // columns; those from _active on span what is still free
    private readonly double[][] _r;          // columns of the triangle of the active rows
    private readonly int[] _active;
    private readonly double[] _force;
    private int _count;

    private NearestPoint(double[] diagonal, double[] beside, double[] pull, IReadOnlyList<Row> rows)
    {
        (_n, _rows) = (diagonal.Length, rows);
        (_active, _force) = (new int[_n + 1], new double[_n + 1]);
        _r = new double[_n][];
        for (var i = 0; i < _n; i++) _r[i] = new double[_n];
        // H = L·Lᵀ with L bidiagonal; J = L⁻ᵀ, so that column c of J solves Lᵀ·y = e_c.
        var (main, under) = (new double[_n], new double[_n]);
        for (var i = 0; i < _n; i++)
        {
            if (i > 0) under[i] = beside[i - 1] / main[i - 1];
            main[i] = Math.Sqrt(diagonal[i] - under[i] * under[i]);
        }
        _j = new double[_n][];
        for (var c = 0; c < _n; c++)
        {
            var column = _j[c] = new double[_n];
            column[c] = 1 / main[c];
            for (var i = c - 1; i >= 0; i--)
            {
                var entry = -under[i + 1] * column[i + 1] / main[i];
                if (Math.Abs(entry) <= Nothing * column[c]) break;
                column[i] = entry;
            }
        }
        _x = new double[_n];
        for (var c = 0; c < _n; c++)
        {
            var along = 0.0;
            for (var i = 0; i <= c; i++) along -= _j[c][i] * pull[i];
            for (var i = 0; i <= c; i++) _x[i] += along * _j[c][i];
        }
    }

    /// <summary>The point, or <c>null</c> where no point obeys.</summary>
    /// <param name="diagonal">H[i, i].</param>
    /// <param name="beside">H[i, i + 1].</param>
    /// <param name="pull">g.</param>
    /// <param name="rows">What must hold, to within the tolerance.</param>
    public static double[]? Find(double[] diagonal, double[] beside, double[] pull, IReadOnlyList<Row> rows)
    {
        var search = new NearestPoint(diagonal, beside, pull, rows);
        // Each round takes in a row; many times as many rounds as there are rows means that rounding leads it in a circle.
        for (var round = 0; round < 4 * (rows.Count + search._n); round++)
        {
            var worst = search.WorstRow();
            if (worst < 0) return search._x;
            if (!search.TakeIn(worst)) return null;
        }
        return null;
    }

    private int WorstRow()
    {
        var (worst, least) = (-1, -BandFit.Tolerance);
        for (var r = 0; r < _rows.Count; r++)
            if (_rows[r].Left(_x) is var left && left < least) (worst, least) = (r, left);
        return worst;
    }

    /// <summary>Moves to the best point that also keeps a row.</summary>
    /// <returns>Whether there is one.</returns>
    private bool TakeIn(int index)
    {
        var row = _rows[index];
        var force = 0.0;
        var (d, z, r) = (new double[_n], new double[_n], new double[_n]);
        while (true)
        {
            Directions(row, d, z, r, out var free);
            var (part, drop) = (double.PositiveInfinity, -1);
            for (var i = 0; i < _count; i++)
                if (r[i] > 0 && _force[i] / r[i] < part) (part, drop) = (_force[i] / r[i], i);
            var full = free > 0 ? -row.Left(_x) / free : double.PositiveInfinity;
            var step = Math.Min(part, full);
            if (double.IsPositiveInfinity(step)) return false;
            for (var i = 0; i < _count; i++) _force[i] -= step * r[i];
            force += step;
            if (free > 0)
                for (var i = 0; i < _n; i++) _x[i] += step * z[i];
            if (full <= part)
            {
                Add(index, force, d);
                return true;
            }
            Drop(drop);
        }
    }

    /// <summary>
    /// With the row as n·x ≥ b (n = −A, −B): d = Jᵀ·n, z the way to go, r how the active forces give way.
    /// </summary>
    /// <param name="row">The row to take in.</param>
    /// <param name="d">Jᵀ·n.</param>
    /// <param name="z">The way of x.</param>
    /// <param name="r">By how much each active force falls for a rise of the row's own.</param>
    /// <param name="free">How fast the row gains on the way; 0 where it depends on the active ones.</param>
    private void Directions(in Row row, double[] d, double[] z, double[] r, out double free)
    {
        var whole = 0.0;
        for (var c = 0; c < _n; c++)
        {
            d[c] = -row.A * _j[c][row.I] - row.B * _j[c][row.I + 1];
            whole += d[c] * d[c];
        }
        free = 0;
        Array.Clear(z);
        for (var c = _count; c < _n; c++)
        {
            if (d[c] == 0) continue;
            free += d[c] * d[c];
            for (var i = 0; i < _n; i++) z[i] += _j[c][i] * d[c];
        }
        if (free <= Dependent * whole) free = 0;
        for (var i = _count - 1; i >= 0; i--)
        {
            var sum = d[i];
            for (var k = i + 1; k < _count; k++)
                if (r[k] != 0) sum -= _r[k][i] * r[k];
            r[i] = sum / _r[i][i];
        }
    }

    private void Add(int index, double force, double[] d)
    {
        for (var c = _n - 1; c > _count; c--)
        {
            if (d[c] == 0) continue;
            if (d[c - 1] == 0)
            {
                (_j[c - 1], _j[c], d[c - 1], d[c]) = (_j[c], _j[c - 1], d[c], 0);
                continue;
            }
            var size = Math.Sqrt(d[c - 1] * d[c - 1] + d[c] * d[c]);
            var (cos, sin) = (d[c - 1] / size, d[c] / size);
            (d[c - 1], d[c]) = (size, 0);
            Turn(_j[c - 1], _j[c], cos, sin, _n);
        }
        for (var i = 0; i <= _count; i++) _r[_count][i] = d[i];
        (_active[_count], _force[_count]) = (index, force);
        _count++;
    }

    private void Drop(int at)
    {
        var gone = _r[at];
        for (var i = at; i + 1 < _count; i++) (_active[i], _force[i], _r[i]) = (_active[i + 1], _force[i + 1], _r[i + 1]);
        _count--;
        _r[_count] = gone;
        Array.Clear(gone);
        for (var c = at; c < _count; c++)
        {
            var (a, b) = (_r[c][c], _r[c][c + 1]);
            if (b == 0) continue;
            if (a == 0)
            {
                (_j[c], _j[c + 1]) = (_j[c + 1], _j[c]);
                for (var k = c; k < _count; k++) (_r[k][c], _r[k][c + 1]) = (_r[k][c + 1], _r[k][c]);
                continue;
            }
            var size = Math.Sqrt(a * a + b * b);
            var (cos, sin) = (a / size, b / size);
            for (var k = c; k < _count; k++)
                (_r[k][c], _r[k][c + 1]) = (cos * _r[k][c] + sin * _r[k][c + 1], cos * _r[k][c + 1] - sin * _r[k][c]);
            Turn(_j[c], _j[c + 1], cos, sin, _n);
        }
    }

    private static void Turn(double[] a, double[] b, double cos, double sin, int count)
    {
        for (var i = 0; i < count; i++) (a[i], b[i]) = (cos * a[i] + sin * b[i], cos * b[i] - sin * a[i]);
    }

    /// <summary>A·x[I] + B·x[I + 1] ≤ C.</summary>
    internal readonly record struct Row(int I, double A, double B, double C)
    {
        /// <summary>How much is left to the bound; below 0 where it is broken.</summary>
        public double Left(double[] x) => C - A * x[I] - B * x[I + 1];
    }
}
