using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>A stretch of bars laid across the lanes of a page, by their length in quarters.</summary>
internal sealed class BarStretch
{
    private readonly SheetFrame _frame;
    private readonly double _from, _length;

    internal BarStretch(SheetFrame frame, Timeline timeline, int first, int count)
    {
        _frame = frame;
        Bars = [.. timeline.Bars.Skip(first).Take(count)];
        (From, To) = (Bars[0].Start, Bars[^1].End);
        (_from, _length) = (From.ToDouble(), (To - From).ToDouble());
        IsLast = first + count == timeline.Bars.Count;
    }

    internal IReadOnlyList<PlayedBar> Bars { get; }

    internal Quarters From { get; }

    internal Quarters To { get; }

    /// <summary>Whether the piece ends with it.</summary>
    internal bool IsLast { get; }

    internal double X(Quarters place) => X(place.ToDouble());

    internal double X(double quarters) => _frame.LaneLeft + _frame.LaneWidth * Math.Clamp((quarters - _from) / _length, 0, 1);

    internal bool Holds(Quarters place) => place >= From && place < To;
}
