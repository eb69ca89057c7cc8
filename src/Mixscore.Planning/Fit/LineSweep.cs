namespace Mixscore.Planning;

/// <summary>
/// All single segments that begin on one beat, grown beat by beat: the lines that keep every demand from the start to
/// where it has come. Once none is left, none will be for any later end.
/// </summary>
/// <param name="band">What they must keep.</param>
/// <param name="withCosts">Whether the edges and the moments are kept, too.</param>
internal sealed class LineSweep(LineBand band, bool withCosts)
{
    private readonly double[] _beats = band.Beats;
    private readonly double[] _limits = band.Steepest;
    private readonly ValueRange[] _possible = band.Possible;
    private int _start;
    private int _end;
    private double _steepest;
    private Moments _moments;
    private ValueRange _range;

    /// <summary>The lines left; u at the start.</summary>
    public LinePolygon Lines { get; } = new(withCosts);

    /// <summary>From the start to the end, in quarters.</summary>
    public double Length => _beats[_end] - _beats[_start];

    /// <summary>The samples that the segment answers for, if they are kept; places counted from the start.</summary>
    public ref readonly Moments Moments => ref _moments;

    /// <summary>The values of the lines left, at the end.</summary>
    public ref readonly ValueRange Range => ref _range;

    /// <summary>Begins anew on a beat with the gains in a range.</summary>
    public void Begin(int beat, ValueRange range)
    {
        (_start, _end, _moments) = (beat, beat, default);
        _steepest = beat < band.Last ? _limits[beat] : 0;
        Lines.Box(range.Low, range.High, _steepest);
        _range = range;
    }

    /// <summary>Goes on to the next beat.</summary>
    /// <returns>Whether a line is left.</returns>
    public bool Extend()
    {
        var from = Length;
        if (_limits[_end] < _steepest) Lines.ClipSlope(_steepest = _limits[_end]);
        var step = _beats[_end + 1] - _beats[_end];
        var length = from + step;
        var after = Lines.RangeAt(length);
        if (ClipBetween(from, step, after)) after = Lines.RangeAt(length);
        if (withCosts) _moments = _moments.With(band.Moments[_end], from);
        _end++;
        var possible = _possible[_end];
        if (after.Low < possible.Low) Lines.ClipLow(length, possible.Low);
        if (after.High > possible.High) Lines.ClipHigh(length, possible.High);
        _range = new ValueRange(Math.Max(after.Low, possible.Low), Math.Min(after.High, possible.High));
        return !Lines.IsEmpty;
    }

    /// <summary>
    /// Clips by the samples between the end and the next beat. The least value of a set of lines is concave in place,
    /// the greatest convex: a sample that lies outside the chords of both ends cuts nothing and costs nothing.
    /// </summary>
    /// <returns>Whether anything may have been cut.</returns>
    private bool ClipBetween(double from, double step, in ValueRange after)
    {
        var (low, high) = (_range.Low, _range.High);
        var (rise, fall) = ((after.Low - low) / step, (after.High - high) / step);
        var touched = false;
        foreach (ref readonly var bound in band.Lows(_end))
            if (bound.Value > low + rise * bound.T)
            {
                Lines.ClipLow(from + bound.T, bound.Value);
                touched = true;
            }
        foreach (ref readonly var bound in band.Highs(_end))
            if (bound.Value < high + fall * bound.T)
            {
                Lines.ClipHigh(from + bound.T, bound.Value);
                touched = true;
            }
        return touched;
    }
}
