namespace Mixscore.Planning;

/// <summary>
/// All single segments that begin on one beat, grown beat by beat: the lines that keep every demand from the start to
/// where it has come. Once none is left, none will be for any later end.
/// </summary>
internal sealed class LineSweep(LineBand band)
{
    private int _start;
    private int _end;
    private double _steepest;
    private Moments _moments;

    /// <summary>The lines left; u at the start.</summary>
    public LinePolygon Lines { get; } = new();

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
        var before = Range;
        var after = Lines.RangeAt(from + band.Beats[_end + 1] - band.Beats[_end]);
        ClipBetween(from, before, after);
        _moments = _moments.With(band.Moments[_end], from);
        _end++;
        var possible = band.Possible[_end];
        Lines.ClipLow(Length, possible.Low);
        Lines.ClipHigh(Length, possible.High);
        Range = Lines.RangeAt(Length);
        return !Lines.IsEmpty;
    }

    /// <summary>
    /// Clips by the samples between the end and the next beat. The least value of a set of lines is concave in place,
    /// the greatest convex: a sample that lies outside the chords of both ends cuts nothing and costs nothing.
    /// </summary>
    private void ClipBetween(double from, ValueRange before, ValueRange after)
    {
        var length = band.Beats[_end + 1] - band.Beats[_end];
        var (rise, fall) = ((after.Low - before.Low) / length, (after.High - before.High) / length);
        foreach (var (t, low) in band.Lows(_end))
            if (low > before.Low + rise * t) Lines.ClipLow(from + t, low);
        foreach (var (t, high) in band.Highs(_end))
            if (high < before.High + fall * t) Lines.ClipHigh(from + t, high);
    }
}
