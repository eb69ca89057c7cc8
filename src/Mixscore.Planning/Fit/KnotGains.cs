namespace Mixscore.Planning;

/// <summary>
/// The gains of given knots that lie nearest the middle: a convex quadratic programme in which each demand joins two
/// neighbours.
/// </summary>
internal sealed class KnotGains
{
    /// <summary>
    /// Weight of a segment's squared move over its length, in dB² a quarter, beside squared distances in dB²: it only
    /// decides where no sample does. Our own.
    /// </summary>
    internal const double Flatness = 1e-5;

    /// <summary>Weight of a knot's squared distance from 0 dB, where a source is never active nor off and nothing else decides. Our own.</summary>
    private const double Unity = 1e-8;

    private readonly double[] _diagonal;
    private readonly double[] _beside;
    private readonly double[] _pull;
    private readonly List<NearestPoint.Row> _rows = [];
    private double _constant;

    private KnotGains(int count) => (_diagonal, _beside, _pull) = (new double[count], new double[count], new double[count]);

    /// <summary>The best gains for knots, and their squared distance; <c>null</c> where no gains obey.</summary>
    /// <param name="segments">What they must obey.</param>
    /// <param name="beats">Where the knots stand: at least two.</param>
    /// <param name="first">The gains that the first may have.</param>
    /// <param name="last">The gains that the last may have.</param>
    public static (double[] Gains, double Cost)? Settle(KnotSegments segments, ReadOnlySpan<int> beats, ValueRange first, ValueRange last)
    {
        var programme = new KnotGains(beats.Length);
        if (!programme.Collect(segments, beats, first, last)) return null;
        var gains = NearestPoint.Find(programme._diagonal, programme._beside, programme._pull, programme._rows);
        return gains is null || !gains.All(double.IsFinite) ? null : (gains, programme.Cost(gains));
    }

    private bool Collect(KnotSegments segments, ReadOnlySpan<int> beats, ValueRange first, ValueRange last)
    {
        // Nothing is known of the gain where no sample is, unless an end is off or held.
        var isFree = first.High - first.Low > 4 * BandFit.Tolerance && last.High - last.Low > 4 * BandFit.Tolerance;
        for (var i = 0; i + 1 < beats.Length; i++)
        {
            if (segments.Between(beats[i], beats[i + 1]) is not { } segment) return false;
            AddCost(i, segment.Moments, segment.Length);
            isFree &= segment.Moments.N == 0;
            foreach (ref readonly var demand in segment.Demands.AsSpan()) AddRow(i, demand);
        }
        AddRow(0, new KnotDemand(1, 0, first.High));
        AddRow(0, new KnotDemand(-1, 0, -first.Low));
        AddRow(beats.Length - 2, new KnotDemand(0, 1, last.High));
        AddRow(beats.Length - 2, new KnotDemand(0, -1, -last.Low));
        for (var i = 0; i < beats.Length && isFree; i++) _diagonal[i] += Unity;
        return true;
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
        _constant += sums.Yy;
    }

    private void AddRow(int i, in KnotDemand demand) => _rows.Add(new NearestPoint.Row(i, demand.A, demand.B, demand.C));

    private double Cost(double[] x)
    {
        var cost = _constant;
        for (var i = 0; i < x.Length; i++)
        {
            cost += x[i] * (_diagonal[i] * x[i] + 2 * _pull[i]);
            if (i + 1 < x.Length) cost += 2 * _beside[i] * x[i] * x[i + 1];
        }
        return cost;
    }
}
