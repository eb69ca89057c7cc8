namespace Mixscore.Planning;

/// <summary>Tells where a hand rests or moves slowly from where it is on its way to somewhere else: what it passes there is not meant.</summary>
internal static class SteadyCells
{
    /// <summary>A hand that moves by more than so many dB within a beat is on its way; our own figure.</summary>
    private const double OnItsWay = 2;

    /// <summary>For how many beats it may be on its way; what goes on for longer is a fade, and meant.</summary>
    private const int Longest = 2;

    internal static bool[] Of(double?[] wanted)
    {
        var moves = new bool[wanted.Length];
        for (var i = 0; i + 1 < wanted.Length; i++)
        {
            if (wanted[i] is not { } from) continue;
            for (var j = i + 1; j <= i + FoldGrid.PerBeat && j < wanted.Length && wanted[j] is { } to; j++)
            {
                if (Math.Abs(to - from) <= OnItsWay) continue;
                // The shortest way from one to the other: where it set out and where it arrived.
                var (first, last) = (i, j);
                while (first + 1 < last && Math.Abs(wanted[first + 1]!.Value - from) < 0.25) first++;
                moves.AsSpan(first, last - first + 1).Fill(true);
                break;
            }
        }
        foreach (var (from, to) in CellRuns.Of(moves.Length, i => moves[i]).ToArray())
            if (to - from > Longest * FoldGrid.PerBeat) moves.AsSpan(from, to - from).Clear();
        return [.. moves.Select((isMoving, i) => !isMoving && wanted[i] is not null)];
    }
}
