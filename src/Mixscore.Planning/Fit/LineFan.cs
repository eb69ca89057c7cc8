namespace Mixscore.Planning;

/// <summary>
/// Straight lines that begin on one beat with given gains, grown beat by beat: for each gain the slopes that keep every
/// demand so far. With the gain given each demand is a bound of the slope, so that a step costs a few comparisons.
/// </summary>
internal sealed class LineFan(LineBand band)
{
    private double[] _gains = new double[16];
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
        (_gains[Count], _least[Count], _most[Count]) = (gain, double.NegativeInfinity, double.PositiveInfinity);
        Count++;
    }

    /// <summary>Goes on to the next beat.</summary>
    /// <returns>Whether a line is left.</returns>
    public bool Extend()
    {
        var from = Length;
        if (band.Steepest[_end] < _steepest)
        {
            _steepest = band.Steepest[_end];
            for (var i = 0; i < Count; i++) (_least[i], _most[i]) = (double.MaxNative(_least[i], -_steepest), double.MinNative(_most[i], _steepest));
        }
        foreach (var (t, low) in band.Lows(_end)) KeepLow(1 / (from + t), low);
        foreach (var (t, high) in band.Highs(_end)) KeepHigh(1 / (from + t), high);
        _moments = _moments.With(band.Moments[_end], from);
        _end++;
        var possible = band.Possible[_end];
        KeepLow(1 / Length, possible.Low);
        KeepHigh(1 / Length, possible.High);
        var slack = BandFit.Rounding / Length;
        for (var i = 0; i < Count; i++)
            if (_least[i] <= _most[i] + slack) return true;
        return false;
    }

    /// <summary>The values at the end of the lines that began with a gain, with room for rounding; empty where there are none.</summary>
    public ValueRange Range(int index) =>
        new(_gains[index] + _least[index] * Length - BandFit.Rounding, _gains[index] + _most[index] * Length + BandFit.Rounding);

    private void KeepLow(double part, double low)
    {
        for (var i = 0; i < Count; i++) _least[i] = double.MaxNative(_least[i], (low - _gains[i]) * part);
    }

    private void KeepHigh(double part, double high)
    {
        for (var i = 0; i < Count; i++) _most[i] = double.MinNative(_most[i], (high - _gains[i]) * part);
    }
}
