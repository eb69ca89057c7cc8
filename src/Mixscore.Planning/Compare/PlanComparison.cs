using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>Two versions of a plan, and how they differ, in musical places of the later one.</summary>
public sealed record PlanComparison
{
    /// <summary>How far rides may stand apart and still be the same, unless another figure is given: the least that is heard as a change. Our own figure.</summary>
    public static Decibels UsualTolerance { get; } = Decibels.Of(1);

    /// <summary>The earlier version.</summary>
    public required PlanOnScore Before { get; init; }

    /// <summary>The later one.</summary>
    public required PlanOnScore After { get; init; }

    /// <summary>What is said once and differently, the bars and tempi that differ among it.</summary>
    public required IReadOnlyList<SettingChange> Settings { get; init; }

    /// <summary>The marks that were written, taken out or changed, by source in the later plan's order.</summary>
    public required IReadOnlyList<MarkChange> Marks { get; init; }

    /// <summary>Where something else is asked, by source and then in the order of the piece.</summary>
    public required IReadOnlyList<LevelChange> Levels { get; init; }

    /// <summary>Where rides stand apart; <c>null</c> where they are not known.</summary>
    public required IReadOnlyList<GainChange>? Rides { get; init; }

    /// <summary>The rides of the sources that both have, by name; empty where they are not known.</summary>
    public required IReadOnlyDictionary<string, (Ride Before, Ride After)> RidesOf { get; init; }

    /// <summary>Where a place of the later version, in quarters, lies in the earlier one; <c>null</c> where its bar is new.</summary>
    public required Func<double, double?> InBefore { get; init; }

    /// <summary>Whether nothing differs.</summary>
    public bool IsSame => Settings.Count == 0 && Marks.Count == 0 && Levels.Count == 0 && Rides is null or { Count: 0 };

    /// <summary>Compares.</summary>
    /// <param name="before">The earlier version.</param>
    /// <param name="after">The later one.</param>
    /// <param name="rides">The rides of each, as far as they are known; <c>null</c> where they are not.</param>
    /// <param name="tolerance">How far rides may stand apart and still be the same; above 0.</param>
    public static PlanComparison Of(PlanOnScore before, PlanOnScore after, (IReadOnlyList<Ride> Before, IReadOnlyList<Ride> After)? rides, Decibels tolerance)
    {
        var bars = new SharedBars(before.Timeline, after.Timeline);
        var known = before.Plan.Sources.Select(source => source.Name).ToHashSet(StringComparer.Ordinal);
        var both = after.Plan.Sources.Select(source => source.Name).Where(known.Contains).ToArray();
        var ridesOf = Together(both, rides);
        return new PlanComparison
        {
            Before = before,
            After = after,
            Settings = [.. SettingChanges.Of(before, after, bars)],
            Marks = [.. both.SelectMany(name => MarkChanges.Of(name, before, after, bars))],
            Levels = [.. both.SelectMany(name => LevelChanges.Of(before[name], after[name], bars, after.Timeline))],
            Rides = rides is null ? null : [.. both.Where(ridesOf.ContainsKey).SelectMany(name => GainChanges.OfRides(ridesOf[name].Before, ridesOf[name].After, bars, after.Timeline, tolerance.Value))],
            RidesOf = ridesOf,
            InBefore = bars.InBefore,
        };
    }

    private static Dictionary<string, (Ride Before, Ride After)> Together(string[] names, (IReadOnlyList<Ride> Before, IReadOnlyList<Ride> After)? rides)
    {
        if (rides is not var (before, after)) return [];
        var (was, now) = (before.ToDictionary(ride => ride.Source, StringComparer.Ordinal), after.ToDictionary(ride => ride.Source, StringComparer.Ordinal));
        return names.Where(name => was.ContainsKey(name) && now.ContainsKey(name)).ToDictionary(name => name, name => (was[name], now[name]), StringComparer.Ordinal);
    }
}
