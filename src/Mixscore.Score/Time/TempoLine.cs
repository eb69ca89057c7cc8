namespace Mixscore.Score;

/// <summary>A tempo map while it is being made: stretches that can be cut and replaced.</summary>
internal sealed class TempoLine
{
    private readonly List<Stretch> _stretches;
    private readonly Quarters _end;

    /// <param name="marks">In order, the first at zero, each holding until the next.</param>
    /// <param name="end">The end of the piece.</param>
    internal TempoLine(IEnumerable<(Quarters At, double Tempo)> marks, Quarters end)
    {
        _end = end;
        _stretches = [.. marks.Select(mark => new Stretch(mark.At, mark.Tempo, mark.Tempo))];
    }

    /// <summary>A line that goes as a map does from one of its places on.</summary>
    /// <param name="map">The map.</param>
    /// <param name="begin">The map's place that is the line's start; negative for a start before the map's, where its first tempo holds.</param>
    /// <param name="end">The end of the piece.</param>
    internal TempoLine(TempoMap map, Quarters begin, Quarters end)
    {
        _end = end;
        _stretches = [.. map.Pieces.Select(piece => new Stretch(piece.From - begin, piece.StartTempo, piece.EndTempo))];
        if (begin < Quarters.Zero) _stretches.Insert(0, new Stretch(Quarters.Zero, _stretches[0].Start, _stretches[0].Start));
        else
        {
            CutAt(Quarters.Zero);
            _stretches.RemoveAll(stretch => stretch.From < Quarters.Zero);
        }
        CutAt(end);
    }

    private readonly record struct Stretch(Quarters From, double Start, double End);

    /// <summary>The tempo that a place comes to from before: at the end of a change, what it has reached.</summary>
    internal double TempoBefore(Quarters at)
    {
        var i = IndexOf(at);
        if (i > 0 && _stretches[i].From == at) return _stretches[i - 1].End;
        return At(i, at);
    }

    /// <summary>The tempo that holds from a place on.</summary>
    internal double TempoFrom(Quarters at) => At(IndexOf(at), at);

    /// <summary>Puts a straight change, or a constant tempo, in place of all between two places.</summary>
    internal void Replace(Quarters from, Quarters to, double start, double end)
    {
        CutAt(to);
        CutAt(from);
        var first = IndexOf(from);
        var last = first;
        while (last < _stretches.Count && _stretches[last].From < to) last++;
        _stretches.RemoveRange(first, last - first);
        _stretches.Insert(first, new Stretch(from, start, end));
    }

    internal TempoMap ToMap()
    {
        var pieces = _stretches.Where(stretch => stretch.From < _end).Select(stretch => new TempoPiece(stretch.From, stretch.Start, stretch.End)).ToList();
        if (!pieces[^1].IsConstant) pieces.Add(new TempoPiece(_end, pieces[^1].EndTempo));
        return new TempoMap(pieces);
    }

    private void CutAt(Quarters at)
    {
        var i = IndexOf(at);
        var stretch = _stretches[i];
        if (stretch.From == at) return;
        var tempo = At(i, at);
        _stretches[i] = stretch with { End = tempo };
        _stretches.Insert(i + 1, new Stretch(at, tempo, stretch.End));
    }

    private double At(int i, Quarters at)
    {
        var stretch = _stretches[i];
        if (stretch.Start == stretch.End) return stretch.Start;
        var length = ((i + 1 < _stretches.Count ? _stretches[i + 1].From : _end) - stretch.From).ToDouble();
        return stretch.Start + (stretch.End - stretch.Start) * ((at - stretch.From).ToDouble() / length);
    }

    private int IndexOf(Quarters at)
    {
        int low = 0, high = _stretches.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (_stretches[middle].From <= at) low = middle;
            else high = middle - 1;
        }
        return low;
    }
}
