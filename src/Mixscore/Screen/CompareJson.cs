using Mixscore.Planning;
using Mixscore.Reports;

namespace Mixscore.Screen;

/// <summary>What <c>compare --json</c> prints.</summary>
internal static class CompareJson
{
    internal static object Of(PlanComparison comparison, IReadOnlyList<string> notes) => new
    {
        same = comparison.IsSame,
        settings = comparison.Settings.Select(change => new { of = change.Of, what = change.What, was = change.Was, becomes = change.Becomes }),
        marks = comparison.Marks.Select(change => new { source = change.Source, at = change.At, was = change.Was, becomes = change.Becomes }),
        levels = comparison.Levels.Select(change => new { source = change.Source, from = $"{change.Stretch.From}", to = $"{change.Stretch.To}", letter = change.Stretch.Letter, was = change.Was, becomes = change.Becomes, by = JsonOut.Rounded(change.By?.Value, 2) }),
        rides = comparison.Rides?.Select(Gains),
        notes,
    };

    internal static object Of(NightComparison comparison) => new
    {
        nights = new[] { comparison.Before, comparison.After }.Select(night => new
        {
            log = night.Name,
            date = night.Hands.Date,
            hall = night.Hands.Hall,
            rehearsal = night.Hands.IsRehearsal,
            clock = night.Clock,
            taken = night.Taken.Select(taken => new { source = taken.Key, times = taken.Value }),
            drops = night.FeedsGone,
            clockHeld = night.ClockHeld,
            lateTicks = night.LateTicks,
            latestTick = JsonOut.Rounded(night.LatestTick.Value, 6),
            notes = night.Notes,
        }),
        hands = comparison.Hands.Select(one => new { gains = Gains(one.Gains), before = Kind(one.Before), after = Kind(one.After) }),
        plans = comparison.Plans.Select(Gains),
        playedAlone = comparison.PlayedAlone.Select(alone => new { log = alone.OfBefore ? comparison.Before.Name : comparison.After.Name, from = $"{alone.Stretch.From}", to = $"{alone.Stretch.To}" }),
        events = NightWords.Events(comparison).Rows.Select(row => new { log = row[0], where = row[1], told = row[2] }),
    };

    private static object Gains(GainChange change) => new
    {
        source = change.Source,
        from = $"{change.Stretch.From}",
        to = $"{change.Stretch.To}",
        letter = change.Stretch.Letter,
        was = JsonOut.Rounded(change.Was?.Value, 2),
        becomes = JsonOut.Rounded(change.Becomes?.Value, 2),
        by = JsonOut.Rounded(change.By?.Value, 2),
        most = JsonOut.Rounded(change.Most?.Value, 2),
    };

    private static string Kind(HandKind? kind) => kind switch { HandKind.Hand => "hand", HandKind.Offset => "offset", HandKind.HeldWithAll => "held", HandKind.FeedGone => "gone", _ => "plan" };
}
