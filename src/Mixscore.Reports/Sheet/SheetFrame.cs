namespace Mixscore.Reports;

/// <summary>Where things lie on a page of a paper, and the sizes of type: large enough for a music stand in dim light. Points.</summary>
/// <param name="Paper">The paper.</param>
/// <param name="NameWidth">How much room the names have, left of the bars.</param>
internal sealed record SheetFrame(SheetPaper Paper, double NameWidth)
{
    internal const double Margin = 30;
    internal const double LeastNames = 84, MostNames = 150;
    internal const double Title = 13.5, Number = 13.5, Body = 10, Move = 10.5, Small = 9;
    internal const double Leading = 12.5;
    internal const double Left = Margin;

    /// <summary>The first height below the page's title.</summary>
    internal const double Top = Margin + 22;

    internal double Right => Paper.Width - Margin;

    /// <summary>Where the bars begin.</summary>
    internal double LaneLeft => Margin + NameWidth;

    internal double LaneWidth => Right - LaneLeft;

    /// <summary>The last height above the page's foot.</summary>
    internal double Bottom => Paper.Height - Margin - 16;

    internal double Height => Bottom - Top;
}
