using System.Numerics;

namespace Mixscore.Planning;

/// <summary>
/// Straight lines that begin on one beat with given gains, grown beat by beat: for each gain the slopes that keep every
/// demand so far. With the gain given each demand is a bound of the slope, so that a step costs a few comparisons.
/// </summary>
internal sealed class LineFan(LineBand band)
{
    private double[] _gains = new double[16];    // filled up to whole vectors with lines that are dead
    private double[] _least = new double[16];
    private double[] _most = new double[16];
    private int _start;
    private int _end;
    private double _steepest;
    private Moments _moments;

    /// <summary>From the start to the end, in quarters.</summary>
    public double Length => band.Beats[_end] - band.Beats[_start];

    /// <summary>The samples that the segment answers for; places counted from the start.</summary>
    public ref readonly Moments Moments => ref _moments;

    /// <summary>How many gains it began with.</summary>
    public int Count { get; private set; }

    /// <summary>Begins anew on a beat; gains are then added.</summary>
    public void Begin(int beat) => (_start, _end, _moments, _steepest, Count) = (beat, beat, default, double.PositiveInfinity, 0);

    /// <summary>Adds a gain, before the first step.</summary>
    public void Add(double gain)
    {
        if (Count == _gains.Length)
        {
            Array.Resize(ref _gains, 2 * Count);
            Array.Resize(ref _least, 2 * Count);
            Array.Resize(ref _most, 2 * Count);
        }
        if (Count % Vector<double>.Count == 0)
            for (var i = Count; i < Count + Vector<double>.Count; i++)
                (_gains[i], _least[i], _most[i]) = (gain, double.PositiveInfinity, double.NegativeInfinity);
        (_gains[Count], _least[Count], _most[Count]) = (gain, double.NegativeInfinity, double.PositiveInfinity);
        Count++;
    }

    /// <summary>Goes on to the next beat.</summary>
    /// <returns>Whether a line is left.</returns>
    public bool Extend()
    {
        var lows = band.Lows(_end);
        var highs = band.Highs(_end);
        var (from, steepest) = (Length, Math.Min(_steepest, band.Steepest[_end]));
        _steepest = steepest;
        _moments = _moments.With(band.Moments[_end], from);
        var possible = band.Possible[++_end];
        var part = 1 / Length;
        var slack = new Vector<double>(BandFit.Rounding * part);
        var isLeft = false;
        for (var i = 0; i < Count; i += Vector<double>.Count)
        {
            var gains = new Vector<double>(_gains, i);
            var least = Vector.Max(new Vector<double>(_least, i), new Vector<double>(-steepest));
            var most = Vector.Min(new Vector<double>(_most, i), new Vector<double>(steepest));
            foreach (ref readonly var low in lows) least = Vector.Max(least, (new Vector<double>(low.Value) - gains) * (1 / (from + low.T)));
            foreach (ref readonly var high in highs) most = Vector.Min(most, (new Vector<double>(high.Value) - gains) * (1 / (from + high.T)));
            least = Vector.Max(least, (new Vector<double>(possible.Low) - gains) * part);
            most = Vector.Min(most, (new Vector<double>(possible.High) - gains) * part);
            least.CopyTo(_least, i);
            most.CopyTo(_most, i);
            isLeft |= Vector.LessThanOrEqualAny(least, most + slack);
        }
        return isLeft;
    }

    /// <summary>The values at the end of the lines that began with a gain, with room for rounding; empty where there are none.</summary>
    public ValueRange Range(int index) =>
        new(_gains[index] + _least[index] * Length - BandFit.Rounding, _gains[index] + _most[index] * Length + BandFit.Rounding);
}
