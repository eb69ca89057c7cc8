using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>A source of the sheet with its moves.</summary>
/// <param name="Planned">The source on its score.</param>
/// <param name="Fitted">Its ride.</param>
/// <param name="Moves">What its fader does.</param>
internal sealed record SheetRow(PlannedSource Planned, FittedSource Fitted, IReadOnlyList<SheetMove> Moves)
{
    internal string Name => Planned.Source.Name;

    internal static IReadOnlyList<SheetRow> Of(SheetInput input, string? only) =>
        [.. input.Plan.Sources.Zip(input.Rides)
            .Where(pair => only is null || pair.First.Source.Name == only)
            .Select(pair => new SheetRow(pair.First, pair.Second, SheetMove.Of(input.Plan.Timeline, pair.Second.Ride)))];
}
