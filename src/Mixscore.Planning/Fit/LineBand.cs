namespace Mixscore.Planning;

/// <summary>
/// A piece made ready for <see cref="LineSweep"/>: what every ride can have on each beat, and between beats only those
/// samples that can bind a straight line (the convex hulls), and the sums that give a line's distance from the middle.
/// </summary>
internal sealed class LineBand
{
    private readonly (double T, double Value)[][] _lows;
    private readonly (double T, double Value)[][] _highs;

    /// <param name="piece">The piece, widened so that a ride can pass.</param>
    /// <param name="possible">What <see cref="BeatChain.Possible"/> gave for it.</param>
    public LineBand(BandPiece piece, ValueRange[] possible)
    {
        (Beats, Steepest, KnotCosts, Possible) = (piece.Beats, piece.Steepest, piece.KnotCosts, possible);
        _lows = new (double, double)[piece.Last][];
        _highs = new (double, double)[piece.Last][];
        Moments = new Moments[piece.Last];
        for (var i = 0; i < piece.Last; i++)
        {
            _lows[i] = Hull(piece.Inside(i), Beats[i], sign: 1);
            _highs[i] = Hull(piece.Inside(i), Beats[i], sign: -1);
            foreach (var sample in piece.Counted(i)) Moments[i] = Moments[i].With(sample.At - Beats[i], sample.Middle);
        }
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
    public ReadOnlySpan<(double T, double Value)> Lows(int beat) => _lows[beat];

    /// <summary>The upper bounds between a beat and the next that a line can touch; places counted from the beat.</summary>
    public ReadOnlySpan<(double T, double Value)> Highs(int beat) => _highs[beat];

    /// <summary>The upper hull of the lower bounds (sign 1), or the lower hull of the upper bounds (sign −1), by monotone chain.</summary>
    private static (double T, double Value)[] Hull(ReadOnlySpan<BandSample> samples, double origin, int sign)
    {
        var hull = new List<(double T, double Value)>(samples.Length);
        foreach (ref readonly var sample in samples)
        {
            var point = (T: sample.At - origin, Value: sign > 0 ? sample.Low - BandFit.Tolerance : sample.High + BandFit.Tolerance);
            while (hull.Count > 0 && IsUnder(point)) hull.RemoveAt(hull.Count - 1);
            if (hull.Count == 0 || hull[^1].T < point.T) hull.Add(point);
        }
        return [.. hull];

        bool IsUnder((double T, double Value) point)
        {
            var (t, value) = hull[^1];
            if (t == point.T) return sign * (value - point.Value) <= 0;
            if (hull.Count < 2) return false;
            var (t0, value0) = hull[^2];
            return sign * ((value - value0) * (point.T - t0) - (point.Value - value0) * (t - t0)) <= 0;
        }
    }
}
