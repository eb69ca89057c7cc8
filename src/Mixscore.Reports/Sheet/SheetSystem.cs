namespace Mixscore.Reports;

/// <summary>A stretch of bars with some sources under it, as high as it needs to be.</summary>
/// <param name="Stretch">The bars.</param>
/// <param name="Rows">The sources, each with its moves laid out.</param>
/// <param name="Heading">What stands over the bars.</param>
/// <param name="Cautions">What is said under it, in lines.</param>
/// <param name="Height">Points that it needs at least.</param>
internal sealed record SheetSystem(
    BarStretch Stretch, IReadOnlyList<(SheetRow Row, RowTexts Texts)> Rows, SystemHeading Heading, IReadOnlyList<string> Cautions, double Height)
{
    /// <summary>The least height of a lane, and the most that it grows to where a page has room.</summary>
    internal const double Lane = 24, TallestLane = 64;

    internal const double UnderLane = 4, Between = 14;

    /// <summary>The height of a source that is off all the way.</summary>
    internal const double SilentRow = 16;

    /// <summary>How many rows have a lane.</summary>
    internal int Lanes => Rows.Count(row => !row.Texts.IsSilent);

    internal static double RowHeight(RowTexts texts) => texts.IsSilent ? SilentRow : Lane + UnderLane + (texts.Lines * SheetFrame.Leading) + 3;

    internal static double CautionsHeight(int lines) => lines == 0 ? 0 : 4 + (lines * SheetFrame.Leading);
}
