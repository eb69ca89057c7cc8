namespace Mixscore.Planning;

/// <summary>
/// A piece made ready for <see cref="LineSweep"/>: what every ride can have on each beat, and between beats only those
/// samples that can bind a straight line (the convex hulls), and the sums that give a line's distance from the middle.
/// </summary>
internal sealed class LineBand
{
    private readonly BoundPoint[] _bounds;
    private readonly int[] _lows;
    private readonly int[] _highs;

    /// <param name="piece">The piece, widened so that a ride can pass.</param>
    /// <param name="possible">What <see cref="BeatChain.Possible"/> gave for it.</param>
    public LineBand(BandPiece piece, ValueRange[] possible)
    {
        (Beats, Steepest, KnotCosts, Possible) = (piece.Beats, piece.Steepest, piece.KnotCosts, possible);
        (_lows, _highs) = (new int[piece.Last + 1], new int[piece.Last]);
        Moments = new Moments[piece.Last];
        var bounds = new BoundPoint[2 * piece.Samples.Length];
        var count = 0;
        for (var i = 0; i < piece.Last; i++)
        {
            _lows[i] = count;
            var (here, next, step) = (possible[i], possible[i + 1], Beats[i + 1] - Beats[i]);
            _highs[i] = count += Hull(piece.Inside(i), Beats[i], 1, here.Low, (next.Low - here.Low) / step, bounds.AsSpan(count));
            count += Hull(piece.Inside(i), Beats[i], -1, here.High, (next.High - here.High) / step, bounds.AsSpan(count));
            foreach (ref readonly var sample in piece.Counted(i)) Moments[i] = Moments[i].With(sample.At - Beats[i], sample.Middle);
        }
        _lows[piece.Last] = count;
        _bounds = bounds[..count];
    }

    public double[] Beats { get; }

    public double[] Steepest { get; }

    /// <summary>For each beat what a vertex there counts, in dB².</summary>
    public double[] KnotCosts { get; }

    /// <summary>For each beat the gains that a ride which obeys from end to end can have there.</summary>
    public ValueRange[] Possible { get; }

    /// <summary>For each stretch between beats the sums over its samples, with places counted from its beat.</summary>
    public Moments[] Moments { get; }

    public int Last => Beats.Length - 1;

    /// <summary>The lower bounds between a beat and the next that a line can touch; places counted from the beat.</summary>
    public ReadOnlySpan<BoundPoint> Lows(int beat) => _bounds.AsSpan(_lows[beat], _highs[beat] - _lows[beat]);

    /// <summary>The upper bounds between a beat and the next that a line can touch; places counted from the beat.</summary>
    public ReadOnlySpan<BoundPoint> Highs(int beat) => _bounds.AsSpan(_highs[beat], _lows[beat + 1] - _highs[beat]);

    /// <summary>
    /// The upper hull of the lower bounds (sign 1), or the lower hull of the upper bounds (sign −1), by monotone chain. What
    /// lies behind the straight way between the bounds on the two beats is left out: a line that keeps those keeps it.
    /// </summary>
    /// <returns>How many points it has.</returns>
    private static int Hull(ReadOnlySpan<BandSample> samples, double origin, int sign, double start, double slope, Span<BoundPoint> hull)
    {
        var count = 0;
        foreach (ref readonly var sample in samples)
        {
            var point = new BoundPoint(sample.At - origin, sign > 0 ? sample.Low - BandFit.Tolerance : sample.High + BandFit.Tolerance);
            if (sign * (point.Value - start - slope * point.T) <= 0) continue;
            while (count > 0 && IsUnder(hull[..count], point, sign)) count--;
            if (count == 0 || hull[count - 1].T < point.T) hull[count++] = point;
        }
        return count;
    }

    /// <summary>Whether the last point of a hull binds nothing once another follows it.</summary>
    private static bool IsUnder(ReadOnlySpan<BoundPoint> hull, BoundPoint next, int sign)
    {
        var last = hull[^1];
        if (last.T == next.T) return sign * (last.Value - next.Value) <= 0;
        if (hull.Length < 2) return false;
        var before = hull[^2];
        return sign * ((last.Value - before.Value) * (next.T - before.T) - (next.Value - before.Value) * (last.T - before.T)) <= 0;
    }
}

/// <summary>A bound of the gain, in dB, at a place in quarters.</summary>
internal readonly record struct BoundPoint(double T, double Value);
