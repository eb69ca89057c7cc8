using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>What a run needs of a project.</summary>
/// <param name="Timeline">The bars as played.</param>
/// <param name="Limits">What a fader may do.</param>
/// <param name="Sources">The sources, in the order of the plan.</param>
public sealed record LivePlan(Timeline Timeline, Limits Limits, IReadOnlyList<LiveSource> Sources)
{
    /// <summary>How long the plan's click counts before the start of the piece: what lies before it in the players' click track.</summary>
    public Seconds Lead { get; init; }

    /// <summary>How many bars it counts.</summary>
    public int CountInBars { get; init; }

    /// <summary>The hall that it is played in, as the plan names it; <c>null</c> where it names none.</summary>
    public string? Hall { get; init; }

    /// <summary>A plan with its rides.</summary>
    /// <param name="onScore">The plan.</param>
    /// <param name="rides">A ride for each source, in the plan's order.</param>
    public static LivePlan Of(PlanOnScore onScore, IReadOnlyList<Ride> rides) =>
        new(onScore.Timeline, onScore.Plan.Limits, [.. onScore.Plan.Sources.Zip(rides, (source, ride) => new LiveSource(source, ride))])
        {
            Lead = ClickTimes.Of(onScore).Lead,
            CountInBars = onScore.Plan.Click.CountIn,
            Hall = onScore.Plan.Hall.Name,
        };

    /// <summary>The sources that a word means: one by its name, all of a site, all of a role, or <c>all</c>.</summary>
    /// <returns>Their places in <see cref="Sources"/>; empty where the word means none.</returns>
    public IReadOnlyList<int> Find(string word) =>
        [.. Enumerable.Range(0, Sources.Count).Where(i => Sources[i].Source is var source
            && (source.Name == word || source.Site.Name == word || word == "all" || word.Equals(source.Role.ToString(), StringComparison.OrdinalIgnoreCase)))];
}

/// <summary>A source with its ride.</summary>
/// <param name="Source">The source.</param>
/// <param name="Ride">Its fader over the piece.</param>
public sealed record LiveSource(Source Source, Ride Ride)
{
    /// <summary>When its stem was found to sound, in seconds of the stem, in order; <c>null</c> where that is not known and it is
    /// awaited wherever its ride is not off.</summary>
    public IReadOnlyList<(Seconds From, Seconds To)>? Active { get; init; }

    /// <summary>Whether it should be heard at a time of its stem.</summary>
    internal bool IsAwaited(double seconds)
    {
        if (Active is not { } active) return true;
        int low = 0, high = active.Count - 1;
        while (low <= high)
        {
            var middle = (low + high) / 2;
            if (active[middle].To.Value < seconds) low = middle + 1;
            else if (active[middle].From.Value > seconds) high = middle - 1;
            else return true;
        }
        return false;
    }
}
