using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Proposes an offset that lasted: the hall's where the plan is for one, else the piece's own.</summary>
internal static class OffsetProposal
{
    internal static FoldProposal Of(PlanOnScore onScore, Source source, LastingOffset lasting, IReadOnlyList<FoldNight> nights)
    {
        var hall = onScore.Plan.Hall.Name;
        var was = hall is null ? source.Offset : source.HallOffset;
        return new FoldProposal
        {
            Kind = FoldKind.Offset,
            Source = source.Name,
            From = onScore.Timeline.PositionAt(Quarters.Zero),
            To = Position.End,
            Was = Text(was),
            Becomes = Text(was + lasting.By),
            Hall = hall,
            Nights = nights,
            Because = $"{source.Name} was {lasting.Words}{(hall is null ? "" : $" in {hall}")}",
        };
    }

    private static string Text(Decibels offset) => offset.Value.ToString("+0.#;-0.#;0", CultureInfo.InvariantCulture) + " dB";
}
