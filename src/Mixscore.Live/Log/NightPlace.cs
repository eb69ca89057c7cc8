using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Where a line of a log lies in a score. The place is the position's, not the seconds': these are by the click of that night, and the tempo may be another now.</summary>
internal static class NightPlace
{
    /// <summary>The place; <c>null</c> for a line during a count-in, and for one whose place the score no longer has.</summary>
    internal static Quarters? Of(LogRecord line, Timeline timeline) =>
        line.At is { } at && Position.TryParse(at, out var position, out _) && timeline.TryResolve(position!, out var place, out _) ? place : null;
}
