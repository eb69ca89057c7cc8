namespace Mixscore.Planning;

/// <summary>Runs of cells.</summary>
internal static class CellRuns
{
    /// <summary>The longest runs of cells that are so, as first and one past the last.</summary>
    internal static IEnumerable<(int From, int To)> Of(int count, Predicate<int> isSo)
    {
        for (var i = 0; i < count; i++)
        {
            if (!isSo(i)) continue;
            var from = i;
            while (i < count && isSo(i)) i++;
            yield return (from, i);
        }
    }

    internal static (int From, int To) Bounds(this Range range) => (range.Start.Value, range.End.Value);
}
