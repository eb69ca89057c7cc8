using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>
/// Levels as they were heard through a hand: where the fader was, and what the stem holds there. As few held levels and moves
/// as stay within so much of them, found greedily from the left, which is the fewest for held levels.
/// </summary>
internal sealed class HeardLevels(FoldGrid grid, double?[] wanted, bool[] steady, double?[] loudness, double bottom, double offset)
{
    private const double Step = 0.5;

    /// <summary>The levels from one beat to another.</summary>
    /// <param name="from">The first beat.</param>
    /// <param name="to">The beat after the last.</param>
    /// <param name="stray">How far a level may be from what was heard, LU.</param>
    /// <returns>In order, without gap; empty where nothing sounds.</returns>
    internal List<LevelPiece> Of(int from, int to, double stray)
    {
        var pieces = new List<LevelPiece>();
        for (var at = from; at < to;)
        {
            var (piece, end) = Longest(at, to, stray);
            if (piece is not null) pieces.Add(piece);
            at = end;
        }
        return Filled(pieces, from, to);
    }

    private (LevelPiece? Piece, int End) Longest(int from, int to, double stray)
    {
        var end = from + 1;
        if (IsOff(from, end))
        {
            while (end < to && IsOff(from, end + 1)) end++;
            return (new LevelPiece(grid.Fader.PlaceOf(from), grid.Fader.PlaceOf(end), new Level.Off(), new Level.Off()), end);
        }
        while (end < to && !IsOff(end, end + 1) && IsHeld(from, end + 1, stray)) end++;
        var moved = end;
        while (moved < to && !IsOff(moved, moved + 1) && Line(from, moved + 1, stray) is not null) moved++;
        if (moved > end && Line(from, moved, stray) is var (start, stop))
            return (new LevelPiece(grid.Fader.PlaceOf(from), grid.Fader.PlaceOf(moved), At(start), At(stop)), moved);
        return (Mean(from, end, stray) is { } level ? new LevelPiece(grid.Fader.PlaceOf(from), grid.Fader.PlaceOf(end), At(level), At(level)) : null, end);
    }

    // What does not sound belongs to what sounded before; before anything sounds, to what comes.
    private List<LevelPiece> Filled(List<LevelPiece> pieces, int from, int to)
    {
        if (pieces.Count == 0) return pieces;
        pieces[0] = pieces[0] with { From = grid.Fader.PlaceOf(from) };
        for (var i = 0; i < pieces.Count; i++)
        {
            var next = i + 1 < pieces.Count ? pieces[i + 1].From : grid.Fader.PlaceOf(to);
            if (pieces[i].IsHeld) pieces[i] = pieces[i] with { To = next };
        }
        return pieces;
    }

    private bool IsOff(int from, int to)
    {
        var (all, off) = (0, 0);
        foreach (var i in Cells(from, to))
        {
            if (!steady[i] || wanted[i] is not { } gain) continue;
            all++;
            if (gain <= bottom) off++;
        }
        return off * 2 > all;
    }

    private bool IsHeld(int from, int to, double stray)
    {
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        foreach (var (_, level) in Heard(from, to)) (low, high) = (Math.Min(low, level), Math.Max(high, level));
        return !(high - low > 2 * stray);
    }

    /// <summary>The level that a fader at rest comes nearest to: the mean, as far as all that is heard stays within reach.</summary>
    private double? Mean(int from, int to, double stray)
    {
        var levels = Heard(from, to).Select(one => one.Level).ToArray();
        return levels.Length == 0 ? null : Math.Clamp(levels.Average(), levels.Max() - stray, Math.Max(levels.Max() - stray, levels.Min() + stray));
    }

    /// <summary>The straight line nearest to what was heard by least squares; <c>null</c> where something is farther from it than it may.</summary>
    private (double Start, double End)? Line(int from, int to, double stray)
    {
        var heard = Heard(from, to).ToArray();
        if (heard.Length < 2) return null;
        var (at, level) = (heard.Average(one => one.At), heard.Average(one => one.Level));
        var spread = heard.Sum(one => (one.At - at) * (one.At - at));
        var slope = heard.Sum(one => (one.At - at) * (one.Level - level)) / spread;
        if (heard.Any(one => Math.Abs(level + slope * (one.At - at) - one.Level) > stray)) return null;
        return (level + slope * (grid.Fader.Beats[from] - at), level + slope * (grid.Fader.Beats[to] - at));
    }

    private IEnumerable<(double At, double Level)> Heard(int from, int to)
    {
        foreach (var i in Cells(from, to))
            if (steady[i] && wanted[i] is { } gain && gain > bottom && loudness[i] is { } loud) yield return (grid.Middle[i], gain + loud - offset);
    }

    private static IEnumerable<int> Cells(int from, int to) => Enumerable.Range(from * FoldGrid.PerBeat, (to - from) * FoldGrid.PerBeat);

    private static Level.At At(double level) => new Level.At(Decibels.Of(Math.Round(level / Step) * Step));
}
