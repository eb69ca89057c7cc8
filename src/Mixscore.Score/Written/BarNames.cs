namespace Mixscore.Score;

/// <summary>How warnings name the bars of a score: by their number, with the movement where there are several.</summary>
internal static class BarNames
{
    /// <param name="bars">All bars of the score.</param>
    /// <param name="index">The bar, from 0.</param>
    internal static string Of(IReadOnlyList<WrittenBar> bars, int index) =>
        bars[^1].Movement > 1 ? $"{Roman.Write(bars[index].Movement)}/{bars[index].Label}" : bars[index].Label;
}
