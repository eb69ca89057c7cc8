using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>All that a sheet shows.</summary>
public sealed record SheetInput
{
    /// <summary>The plan on its score.</summary>
    public required PlanOnScore Plan { get; init; }

    /// <summary>What the parts play: who rests does not lead.</summary>
    public required Performance Performance { get; init; }

    /// <summary>The rides, in the order of the plan's sources.</summary>
    public required IReadOnlyList<FittedSource> Rides { get; init; }

    /// <summary>The day that the plan is of.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>What tells this plan from an earlier one, such as the beginning of a hash.</summary>
    public required string Version { get; init; }

    /// <summary>The desks' strip lists.</summary>
    public IReadOnlyList<SheetDesk> Desks { get; init; } = [];

    /// <summary>What must be said besides, a sentence each.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>How a desk is reached.</summary>
/// <param name="Title">The map's title.</param>
/// <param name="To">Where its wire ends.</param>
/// <param name="Strips">The fader of each source, as it is addressed.</param>
public sealed record SheetDesk(string Title, string To, IReadOnlyList<SheetStrip> Strips);

/// <summary>A strip of a desk.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="Source">The source on it.</param>
/// <param name="Address">How its fader is addressed.</param>
public sealed record SheetStrip(int Number, string Source, string Address);
