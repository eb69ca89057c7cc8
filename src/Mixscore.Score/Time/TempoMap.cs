namespace Mixscore.Score;

/// <summary>
/// Quarters to seconds and back, in closed form. With a tempo straight over quarters, v(q) = a + b·q, a stretch lasts
/// 60/b · ln(v(q)/a) seconds (derived: the integral of 60/v), and its inverse is q = a/b · (exp(b·t/60) − 1).
/// Before the first piece and after the last one the tempo goes on as it stood.
/// </summary>
public sealed class TempoMap
{
    private readonly TempoPiece[] _pieces;
    private readonly double[] _starts;   // quarters
    private readonly double[] _lengths;  // quarters; infinite for the last
    private readonly double[] _seconds;  // at each piece's start

    /// <summary>A map from pieces in order, the first at zero. The last one's tempo is its start tempo, for ever.</summary>
    /// <param name="pieces">At least one; starts ascending; tempi finite and above zero.</param>
    /// <exception cref="ArgumentException">The pieces are not so.</exception>
    public TempoMap(IEnumerable<TempoPiece> pieces)
    {
        _pieces = [.. pieces];
        if (_pieces.Length == 0 || _pieces[0].From != Quarters.Zero) throw new ArgumentException("a tempo map begins at zero", nameof(pieces));
        _starts = new double[_pieces.Length];
        _lengths = new double[_pieces.Length];
        _seconds = new double[_pieces.Length];
        for (var i = 0; i < _pieces.Length; i++)
        {
            var piece = _pieces[i];
            if (!(piece.StartTempo > 0 && piece.EndTempo > 0 && double.IsFinite(piece.StartTempo) && double.IsFinite(piece.EndTempo)))
                throw new ArgumentException($"the tempo at {piece.From} quarters is not above zero", nameof(pieces));
            if (i > 0 && piece.From <= _pieces[i - 1].From) throw new ArgumentException($"two tempi at {piece.From} quarters", nameof(pieces));
            _starts[i] = piece.From.ToDouble();
            var isLast = i == _pieces.Length - 1;
            if (isLast && !piece.IsConstant) throw new ArgumentException("the last piece must be constant", nameof(pieces));
            _lengths[i] = isLast ? double.PositiveInfinity : (_pieces[i + 1].From - piece.From).ToDouble();
            if (i > 0) _seconds[i] = _seconds[i - 1] + SecondsWithin(i - 1, _lengths[i - 1]);
        }
    }

    /// <summary>The pieces, in order.</summary>
    public IReadOnlyList<TempoPiece> Pieces => _pieces;

    /// <summary>When a place of the score sounds by the click, in seconds from its start.</summary>
    public Seconds SecondsAt(Quarters place) => SecondsAt(place.ToDouble());

    /// <summary>When a place of the score, in quarters from the start, sounds by the click.</summary>
    public Seconds SecondsAt(double quarters)
    {
        var i = PieceOf(_starts, quarters);
        return new Seconds(_seconds[i] + SecondsWithin(i, quarters - _starts[i]));
    }

    /// <summary>The place, in quarters from the start, that sounds at a time by the click: the inverse of <see cref="SecondsAt(double)"/>.</summary>
    public double QuartersAt(Seconds time)
    {
        var i = PieceOf(_seconds, time.Value);
        return _starts[i] + QuartersWithin(i, time.Value - _seconds[i]);
    }

    /// <summary>The tempo at a place, in quarters a minute; where a piece begins, that piece's.</summary>
    public double TempoAt(double quarters)
    {
        var i = PieceOf(_starts, quarters);
        var piece = _pieces[i];
        return piece.IsConstant || quarters < _starts[i] ? piece.StartTempo : piece.StartTempo + Slope(i) * (quarters - _starts[i]);
    }

    /// <summary>The fastest tempo that a stretch meets, in quarters a minute.</summary>
    public double FastestTempo(double fromQuarters, double toQuarters)
    {
        var fastest = TempoAt(fromQuarters);
        for (var i = PieceOf(_starts, fromQuarters); i < _pieces.Length && _starts[i] < toQuarters; i++)
        {
            if (_starts[i] >= fromQuarters) fastest = Math.Max(fastest, _pieces[i].StartTempo);
            var end = Math.Min(toQuarters, _starts[i] + _lengths[i]);
            fastest = Math.Max(fastest, _pieces[i].StartTempo + Slope(i) * Math.Max(0, end - _starts[i]));
        }
        return fastest;
    }

    private static int PieceOf(double[] starts, double value)
    {
        var found = Array.BinarySearch(starts, value);
        return found >= 0 ? found : Math.Max(0, ~found - 1);
    }

    private double Slope(int i) => _pieces[i].IsConstant ? 0 : (_pieces[i].EndTempo - _pieces[i].StartTempo) / _lengths[i];

    private double SecondsWithin(int i, double quarters)
    {
        var tempo = _pieces[i].StartTempo;
        var slope = Slope(i);
        return slope == 0 || quarters <= 0 ? 60 / tempo * quarters : 60 / slope * LogOnePlus(slope * quarters / tempo);
    }

    private double QuartersWithin(int i, double seconds)
    {
        var tempo = _pieces[i].StartTempo;
        var slope = Slope(i);
        return slope == 0 || seconds <= 0 ? tempo / 60 * seconds : tempo / slope * ExpLessOne(slope * seconds / 60);
    }

    // Near zero 1 + x has lost the low digits of x; these divide the loss out again (W. Kahan's forms, derived).
    private static double LogOnePlus(double x)
    {
        var sum = 1 + x;
        return sum == 1 ? x : x * Math.Log(sum) / (sum - 1);
    }

    private static double ExpLessOne(double x)
    {
        var power = Math.Exp(x);
        if (power == 1) return x;
        var less = power - 1;
        return less == -1 ? -1 : less * x / Math.Log(power);
    }
}
