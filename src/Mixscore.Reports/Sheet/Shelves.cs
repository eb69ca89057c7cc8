namespace Mixscore.Reports;

/// <summary>Puts texts on the first of several lines on which each has room where it belongs, or as little before that as its width asks for.</summary>
internal sealed class Shelves(double left, double right, double gap)
{
    private readonly List<double> _ends = [];

    /// <summary>How many lines there are.</summary>
    internal int Count => _ends.Count;

    /// <summary>Places a text; texts come in the order of where they belong.</summary>
    /// <param name="x">Where it belongs.</param>
    /// <param name="width">How wide it is.</param>
    /// <returns>Its line, from 0, and where it begins on it.</returns>
    internal (int Line, double X) Place(double x, double width)
    {
        var at = Math.Max(left, Math.Min(x, right - width));
        for (var line = 0; line < _ends.Count; line++)
            if (_ends[line] + gap <= at)
            {
                _ends[line] = at + width;
                return (line, at);
            }
        _ends.Add(at + width);
        return (_ends.Count - 1, at);
    }
}
