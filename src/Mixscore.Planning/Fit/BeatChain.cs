namespace Mixscore.Planning;

/// <summary>
/// The gains that a ride with a vertex on every beat can have. Any ride that obeys is such a ride, so where this chain
/// breaks nothing obeys, and what it leaves at a beat bounds every other ride there. With the vertices given the
/// demands are convex: what can be reached at a beat is one range.
/// </summary>
internal sealed class BeatChain(BandPiece piece)
{
    private readonly LinePolygon _lines = new(withEdges: false);

    /// <summary>The gains at the next beat that follow from a range at a beat; empty where there are none.</summary>
    public ValueRange Step(int beat, ValueRange from, bool limitSpeed = true)
    {
        if (from.IsEmpty) return from;
        var length = piece.Beats[beat + 1] - piece.Beats[beat];
        var own = piece.Own(beat + 1);
        _lines.Box(from.Low, from.High, limitSpeed ? piece.Steepest[beat] : 1e6);
        foreach (ref readonly var sample in piece.Inside(beat))
        {
            _lines.ClipLow(sample.At - piece.Beats[beat], sample.Low - BandFit.Tolerance);
            _lines.ClipHigh(sample.At - piece.Beats[beat], sample.High + BandFit.Tolerance);
        }
        _lines.ClipLow(length, own.Low);
        _lines.ClipHigh(length, own.High);
        return _lines.RangeAt(length);
    }

    /// <summary>Whether a ride from one beat to another is possible that heeds nothing outside.</summary>
    public bool Passes(int from, int to, bool limitSpeed = true)
    {
        var range = piece.Own(from);
        for (var i = from; i < to && !range.IsEmpty; i++) range = Step(i, range, limitSpeed);
        return !range.IsEmpty;
    }

    /// <summary>For each beat the gains that a ride which obeys from end to end can have there.</summary>
    /// <param name="piece">The piece.</param>
    /// <param name="reversed">The same told from its end.</param>
    public static ValueRange[] Possible(BandPiece piece, BandPiece reversed)
    {
        var (forth, back) = (Forth(piece), Forth(reversed));
        for (var i = 0; i < forth.Length; i++)
            forth[i] = new ValueRange(Math.Max(forth[i].Low, back[^(i + 1)].Low), Math.Min(forth[i].High, back[^(i + 1)].High));
        return forth;
    }

    private static ValueRange[] Forth(BandPiece piece)
    {
        var chain = new BeatChain(piece);
        var ranges = new ValueRange[piece.Last + 1];
        ranges[0] = piece.Own(0);
        for (var i = 0; i < piece.Last; i++) ranges[i + 1] = chain.Step(i, ranges[i]);
        return ranges;
    }
}
