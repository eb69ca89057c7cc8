namespace Mixscore.Planning;

/// <summary>
/// All single segments that begin on one beat, grown beat by beat: the lines that keep every demand from the start to
/// where it has come. Once none is left, none will be for any later end.
/// </summary>
internal sealed class LineSweep(LineBand band, bool withEdges)
{
    private int _start;
    private int _end;
    private double _steepest;
    private Moments _moments;

    /// <summary>The lines left; u at the start.</summary>
    public LinePolygon Lines { get; } = new(withEdges);

    /// <summary>From the start to the end, in quarters.</summary>
    public double Length => band.Beats[_end] - band.Beats[_start];

    /// <summary>The samples that the segment answers for; places counted from the start.</summary>
    public ref readonly Moments Moments => ref _moments;

    /// <summary>The values of the lines left, at the end.</summary>
    public ValueRange Range { get; private set; }

    /// <summary>The gains that a ride which obeys from end to end can have on a beat.</summary>
    public ValueRange Possible(int beat) => band.Possible[beat];

    /// <summary>Begins anew on a beat with the gains in a range.</summary>
    public void Begin(int beat, ValueRange range)
    {
        (_start, _end, _moments) = (beat, beat, default);
        _steepest = beat < band.Last ? band.Steepest[beat] : 0;
        Lines.Box(range.Low, range.High, _steepest);
        Range = range;
    }

    /// <summary>Goes on to the next beat.</summary>
    /// <returns>Whether a line is left.</returns>
    public bool Extend()
    {
        var from = Length;
        if (band.Steepest[_end] < _steepest) Lines.ClipSlope(_steepest = band.Steepest[_end]);
        var length = from + band.Beats[_end + 1] - band.Beats[_end];
        var after = Lines.RangeAt(length);
        if (ClipBetween(from, Range, after)) after = Lines.RangeAt(length);
        _moments = _moments.With(band.Moments[_end], from);
        _end++;
        var possible = band.Possible[_end];
        if (after.Low < possible.Low) Lines.ClipLow(Length, possible.Low);
        if (after.High > possible.High) Lines.ClipHigh(Length, possible.High);
        Range = new ValueRange(Math.Max(after.Low, possible.Low), Math.Min(after.High, possible.High));
        return !Lines.IsEmpty;
    }

    /// <summary>
    /// Clips by the samples between the end and the next beat. The least value of a set of lines is concave in place,
    /// the greatest convex: a sample that lies outside the chords of both ends cuts nothing and costs nothing.
    /// </summary>
    /// <returns>Whether anything may have been cut.</returns>
    private bool ClipBetween(double from, ValueRange before, ValueRange after)
    {
        var length = band.Beats[_end + 1] - band.Beats[_end];
        var (rise, fall) = ((after.Low - before.Low) / length, (after.High - before.High) / length);
        var touched = false;
        foreach (var (t, low) in band.Lows(_end))
            if (low > before.Low + rise * t)
            {
                Lines.ClipLow(from + t, low);
                touched = true;
            }
        foreach (var (t, high) in band.Highs(_end))
            if (high < before.High + fall * t)
            {
                Lines.ClipHigh(from + t, high);
                touched = true;
            }
        return touched;
    }
}
