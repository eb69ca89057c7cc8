namespace Mixscore.Planning;

/// <summary>
/// Draws a ride nearer to the middle without another vertex: each inner knot in turn tries the beats beside it, and the
/// next one on which a vertex counts less, with its gain and its neighbours' settled exactly for each try, until no single
/// knot's shift helps.
/// </summary>
internal sealed class KnotShifts
{
    /// <summary>How many knots on either side are settled anew with a shifted one.</summary>
    private const int Neighbours = 2;

    /// <summary>Rounds over all knots; two or three is usual.</summary>
    private const int MostRounds = 8;

    /// <summary>A gain of less than this, in dB², is not worth a shift.</summary>
    private const double Worth = 1e-6;

    private readonly KnotSegments _segments;
    private readonly double[] _costs;
    private readonly int[] _beats;
    private readonly double[] _gains;

    private KnotShifts(LineBand band, (int Beat, double Gain)[] knots)
    {
        _segments = new KnotSegments(band);
        _costs = band.KnotCosts;
        _beats = [.. knots.Select(knot => knot.Beat)];
        _gains = [.. knots.Select(knot => knot.Gain)];
    }

    /// <summary>The settled knots.</summary>
    /// <param name="band">What they must obey.</param>
    /// <param name="knots">Knots that obey.</param>
    public static IEnumerable<(int Beat, double Gain)> Settle(LineBand band, (int Beat, double Gain)[] knots)
    {
        var work = new KnotShifts(band, knots);
        work.SettleAll();
        // A knot is looked at again only where something near it has moved since.
        var (stale, moved) = (new bool[knots.Length], new bool[knots.Length]);
        Array.Fill(stale, true);
        for (var round = 0; round < MostRounds && stale.Contains(true); round++)
        {
            for (var i = 1; i < knots.Length - 1; i++) moved[i] = stale[i] && work.Shift(i);
            for (var i = 0; i < knots.Length; i++)
                stale[i] = moved.AsSpan(Math.Max(0, i - Neighbours)..Math.Min(knots.Length, i + Neighbours + 1)).Contains(true);
        }
        work.SettleAll();
        return work._beats.Zip(work._gains);
    }

    private void SettleAll()
    {
        if (Try(0, _beats.Length - 1) is { } settled) settled.Gains.CopyTo(_gains, 0);
    }

    /// <summary>Shifts a knot one way or the other for as long as that helps.</summary>
    private bool Shift(int knot)
    {
        var (from, to) = (Math.Max(0, knot - Neighbours), Math.Min(_beats.Length - 1, knot + Neighbours));
        if (Try(from, to) is not { } best) return false;
        var was = _beats[knot];
        for (var by = -1; by <= 1 && _beats[knot] == was; by += 2)
        {
            while (Moves(_beats[knot] + by))
            {
            }
            if (_costs[_beats[knot]] > 0) Moves(Cheaper(knot, by));
        }
        if (_beats[knot] == was) return false;
        best.Gains.CopyTo(_gains, from);
        return true;

        bool Moves(int beat)
        {
            if (beat <= _beats[knot - 1] || beat >= _beats[knot + 1]) return false;
            var before = _beats[knot];
            _beats[knot] = beat;
            if (Try(from, to) is { } next && next.Cost + _costs[beat] < best.Cost + _costs[before] - Worth)
            {
                best = next;
                return true;
            }
            _beats[knot] = before;
            return false;
        }
    }

    /// <summary>The next beat one way on which the vertex would count less; the neighbour's where there is none.</summary>
    private int Cheaper(int knot, int by)
    {
        var beat = _beats[knot] + by;
        while (beat > _beats[knot - 1] && beat < _beats[knot + 1] && _costs[beat] >= _costs[_beats[knot]]) beat += by;
        return beat;
    }

    /// <summary>Settles some knots, those at the ends of them held unless they are the ride's own.</summary>
    private (double[] Gains, double Cost)? Try(int from, int to) =>
        KnotGains.Settle(_segments, _beats.AsSpan(from..(to + 1)), Range(from), Range(to));

    private ValueRange Range(int knot) => knot == 0 || knot == _beats.Length - 1
        ? _segments.Possible(_beats[knot])
        : new ValueRange(_gains[knot] - BandFit.Rounding, _gains[knot] + BandFit.Rounding);
}
