namespace Mixscore.Live;

/// <summary>Values over stretches of a line: what is painted later covers what was painted there before.</summary>
internal sealed class Painted<T>
{
    private readonly List<(double From, double To, T Value)> _pieces = [];

    /// <summary>The stretches that were painted, ascending; neighbours of one value are one.</summary>
    internal IReadOnlyList<(double From, double To, T Value)> Pieces => _pieces;

    /// <summary>Paints a stretch; an empty one leaves nothing.</summary>
    internal void Paint(double from, double to, T value)
    {
        if (!(to > from)) return;
        var first = _pieces.Count;
        while (first > 0 && _pieces[first - 1].To > from) first--;
        var last = first;
        while (last < _pieces.Count && _pieces[last].From < to) last++;
        List<(double, double, T)> put = [];
        if (last > first && _pieces[first] is var left && left.From < from) put.Add((left.From, from, left.Value));
        put.Add((from, to, value));
        if (last > first && _pieces[last - 1] is var right && right.To > to) put.Add((to, right.To, right.Value));
        _pieces.RemoveRange(first, last - first);
        _pieces.InsertRange(first, put);
        Join(Math.Max(0, first - 1), Math.Min(_pieces.Count, first + put.Count + 1));
    }

    private void Join(int from, int to)
    {
        for (var i = to - 1; i > from; i--)
        {
            var (before, after) = (_pieces[i - 1], _pieces[i]);
            if (before.To < after.From || !EqualityComparer<T>.Default.Equals(before.Value, after.Value)) continue;
            _pieces[i - 1] = (before.From, after.To, before.Value);
            _pieces.RemoveAt(i);
        }
    }
}
