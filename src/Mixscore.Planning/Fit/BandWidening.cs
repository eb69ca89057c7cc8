namespace Mixscore.Planning;

/// <summary>
/// Widens a piece's bands by the least that lets a ride pass: first where a band misses the fader's range, by the gap;
/// then, going from beat to beat, wherever no ride can go on: there the shortest stretch of beats before it that cannot
/// be ridden by itself has its samples widened alike by the least that lets it be ridden.
/// </summary>
/// <remarks>
/// Each widening is the least for its stretch (by bisection, to the tolerance, rounded up), given what was widened
/// before it. The stretch only grows while one beat is worked at, so the work ends.
/// </remarks>
internal sealed class BandWidening
{
    private readonly BandPiece _piece;
    private readonly BeatChain _chain;
    private readonly BandSample[] _asked;
    private readonly List<Widening> _found = [];
    private readonly double _bottom;
    private readonly double _top;

    private BandWidening(BandPiece piece, double bottom, double top)
    {
        (_piece, _chain, _asked, _bottom, _top) = (piece, new BeatChain(piece), [.. piece.Samples], bottom, top);
    }

    /// <summary>Widens, and tells what was widened by the piece's own sample indices and places.</summary>
    public static IReadOnlyList<Widening> Apply(BandPiece piece, double bottom, double top)
    {
        var work = new BandWidening(piece, bottom, top);
        work.ToRange();
        work.ToRide();
        return [.. work._found.OrderBy(stretch => stretch.First)];
    }

    private void ToRange()
    {
        for (var i = 0; i < _asked.Length; i++)
        {
            ref var sample = ref _piece.Samples[i];
            var (quiet, loud) = (sample.Low - _top, _bottom - sample.High);
            if (quiet > BandFit.Tolerance) Add(i, quiet, Because.TooQuiet);
            else if (loud > BandFit.Tolerance) Add(i, loud, Because.TooLoud);
            if (quiet > 0) sample = sample with { Low = _top };
            if (loud > 0) sample = sample with { High = _bottom };
        }
    }

    private void Add(int sample, double by, Because because)
    {
        if (_found.Count > 0 && _found[^1] is var last && last.Because == because && last.Last == sample - 1)
            _found[^1] = last with { Last = sample, By = Math.Max(last.By, by) };
        else
            _found.Add(new Widening(sample, sample, by, because, 0, 0, 0));
    }

    private void ToRide()
    {
        var ranges = new ValueRange[_piece.Last + 1];
        ranges[0] = OpenBeat(0);
        for (var i = 0; i < _piece.Last; i++)
        {
            ranges[i + 1] = _chain.Step(i, ranges[i]);
            while (ranges[i + 1].IsEmpty)
            {
                var first = i;
                while (first > 0 && _chain.Passes(first, i + 1)) first--;
                WidenStretch(first, i + 1);
                if (first == 0) ranges[0] = _piece.Own(0);
                for (var j = Math.Max(0, first - 1); j <= i; j++) ranges[j + 1] = _chain.Step(j, ranges[j]);
            }
        }
    }

    /// <summary>The range at a beat, its own samples widened if they contradict one another.</summary>
    private ValueRange OpenBeat(int beat)
    {
        if (_piece.Own(beat).IsEmpty) WidenStretch(beat, beat);
        return _piece.Own(beat);
    }

    private void WidenStretch(int from, int to)
    {
        var (first, after) = (_piece.FirstSample(from), _piece.AfterSample(to));
        var before = _piece.Samples[first..after];
        var (move, moveFrom, moveTo) = Passes(from, to, limitSpeed: false) ? WorstMove(from, to) : default;
        var because = move > 0 ? Because.TooFast : Because.TooNarrow;
        var (never, enough) = (0.0, 1.0);
        while (!Try(enough)) (never, enough) = (enough, 2 * enough);
        while (enough - never > BandFit.Tolerance)
        {
            var middle = (never + enough) / 2;
            if (Try(middle)) enough = middle;
            else never = middle;
        }
        Try(enough);
        Note(first, after - 1, because, move, moveFrom, moveTo);

        bool Try(double by)
        {
            for (var i = first; i < after; i++)
                _piece.Samples[i] = before[i - first] with { Low = before[i - first].Low - by, High = before[i - first].High + by };
            return Passes(from, to, limitSpeed: true);
        }
    }

    private bool Passes(int from, int to, bool limitSpeed) =>
        from == to ? !_piece.Own(from).IsEmpty : _chain.Passes(from, to, limitSpeed);

    /// <summary>Puts a widened stretch on record, joined with those of the same kind that it overlaps.</summary>
    private void Note(int first, int last, Because because, double move, double moveFrom, double moveTo)
    {
        for (var i = _found.Count - 1; i >= 0; i--)
        {
            var other = _found[i];
            if (other.Because is Because.TooQuiet or Because.TooLoud || other.First > last || other.Last < first) continue;
            (first, last) = (Math.Min(first, other.First), Math.Max(last, other.Last));
            if (other.Because == Because.TooFast && other.Move >= move) (because, move, moveFrom, moveTo) = (other.Because, other.Move, other.MoveFrom, other.MoveTo);
            _found.RemoveAt(i);
        }
        var by = 0.0;
        for (var i = first; i <= last; i++) by = Math.Max(by, InRange(_asked[i]).Low - _piece.Samples[i].Low);
        _found.Add(new Widening(first, last, by, because, move, moveFrom, moveTo));
    }

    private BandSample InRange(BandSample asked) => asked with { Low = Math.Min(asked.Low, _top), High = Math.Max(asked.High, _bottom) };

    /// <summary>Of the moves that the stretch asks for, between two samples or an end that is given, the one furthest past the speed; none where each could be made alone.</summary>
    private (double Move, double From, double To) WorstMove(int from, int to)
    {
        var demands = new List<BandSample>();
        if (from == 0 && _piece.Start is { Gain: var start }) demands.Add(new BandSample(0, start, start, start));
        foreach (var sample in _piece.Between(from, to)) demands.Add(sample);
        if (to == _piece.Last && _piece.End is { Gain: var end }) demands.Add(new BandSample(_piece.Beats[to], end, end, end));
        var can = new double[demands.Count];
        for (int i = 1, beat = from; i < can.Length; i++)
        {
            var at = demands[i - 1].At;
            can[i] = can[i - 1];
            while (at < demands[i].At)
            {
                while (beat < to - 1 && _piece.Beats[beat + 1] <= at) beat++;
                var until = beat == to - 1 ? demands[i].At : Math.Min(demands[i].At, _piece.Beats[beat + 1]);
                can[i] += _piece.Steepest[beat] * (until - at);
                at = until;
            }
        }
        var (worst, move, moveFrom, moveTo) = (0.0, 0.0, 0.0, 0.0);
        for (var i = 0; i < can.Length; i++)
            for (var j = i + 1; j < can.Length; j++)
            {
                var asks = Math.Max(demands[j].Low - demands[i].High, demands[i].Low - demands[j].High);
                if (asks - (can[j] - can[i]) <= worst) continue;
                (worst, move, moveFrom, moveTo) = (asks - (can[j] - can[i]), asks, demands[i].At, demands[j].At);
            }
        return (move, moveFrom, moveTo);
    }
}
