using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A mark whose positions have been found in the score.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where its range ends; <c>null</c> without a range.</param>
/// <param name="Mark">The mark.</param>
internal sealed record PlacedMark(Quarters From, Quarters? To, Mark Mark)
{
    /// <summary>Finds a mark's positions, or says what is wrong with them.</summary>
    internal static PlacedMark? Place(Mark mark, string source, Timeline timeline, FaultList faults)
    {
        var spoken = $"{source}, {RangeText.Spoken(mark.To is null ? $"{mark.From}" : $"{mark.From}..{mark.To}")}";
        if (Span.Find(mark.From, mark.To, mark.Place, spoken, timeline, faults) is not { } span) return null;
        return new PlacedMark(span.From, span.To, mark);
    }

    /// <summary>Reports marks that stand in one place or inside another's range. A range's end belongs to what follows.</summary>
    /// <returns>The marks in order, without those reported.</returns>
    internal static IReadOnlyList<PlacedMark> InOrder(IEnumerable<PlacedMark> marks, string source, FaultList faults)
    {
        var kept = new List<PlacedMark>();
        foreach (var mark in marks.OrderBy(mark => mark.From).ThenBy(mark => mark.Mark.Place.Line).ThenBy(mark => mark.Mark.Place.Column))
        {
            var other = kept.Count > 0 ? kept[^1] : null;
            if (other is not null && (other.From == mark.From || mark.From < other.To))
            {
                var (first, second) = (other.Mark, mark.Mark);
                if (second.Place.Line < first.Place.Line) (first, second) = (second, first);
                faults.Add(PlanFault.Overlap, second.Place, $"{source}: {Named(second)} overlaps {Named(first)} on line {first.Place.Line}",
                    other.From == mark.From ? "keep one of the two" : "end the range where the next mark begins, or move the mark");
                continue;
            }
            kept.Add(mark);
        }
        return kept;
    }

    private static string Named(Mark mark) => $"\"{mark.From}{(mark.To is null ? "" : $"..{mark.To}")}\"";
}
