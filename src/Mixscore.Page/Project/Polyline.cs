namespace Mixscore.Page;

/// <summary>A line over quarters, kept in as few points as show it: a point that lies on the line between its neighbours goes.</summary>
internal sealed class Polyline
{
    // A hundredth of what a fader's place on the screen can show.
    private const double Straight = 0.02;
    private readonly List<(double At, double? Value)> _points = [];

    internal IReadOnlyList<(double At, double? Value)> Points => _points;

    /// <summary>Adds a point.</summary>
    /// <param name="at">Quarters from the start; not before the last point.</param>
    /// <param name="value">dB or LU; <c>null</c> where there is nothing to draw.</param>
    internal void Add(double at, double? value)
    {
        if (_points.Count >= 2 && Lies(_points[^2], _points[^1], (at, value))) _points[^1] = (at, value);
        else _points.Add((at, value));
    }

    private static bool Lies((double At, double? Value) a, (double At, double? Value) b, (double At, double? Value) c)
    {
        if (a.Value is null && b.Value is null && c.Value is null) return true;
        if (a.Value is not { } from || b.Value is not { } middle || c.Value is not { } to || c.At <= a.At) return false;
        return Math.Abs(from + (to - from) * (b.At - a.At) / (c.At - a.At) - middle) < Straight;
    }
}
