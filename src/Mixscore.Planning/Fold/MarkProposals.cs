namespace Mixscore.Planning;

/// <summary>Turns what was found for a source into proposals, each of which can be taken alone.</summary>
internal static class MarkProposals
{
    internal static IEnumerable<FoldProposal> Of(string source, FoldedMarks before, SourceFold.Found found, FoldGrid grid, IReadOnlyList<FoldNight> nights)
    {
        var edits = found.Marks.EditsFrom(before);
        var next = 0;
        for (var i = 0; i < found.Pieces.Count; i++)
        {
            var piece = found.Pieces[i];
            var upTo = i + 1 < found.Pieces.Count ? found.Pieces[i + 1].From : grid.Timeline.End;
            var own = new List<MarkEdit>();
            for (; next < edits.Count && edits[next].At < upTo; next++) own.Add(edits[next].Edit);
            if (own.Count == 0) continue;
            yield return new FoldProposal
            {
                Kind = FoldKind.Mark,
                Source = source,
                From = grid.Timeline.PositionAt(piece.From),
                To = grid.Timeline.PositionAt(piece.To),
                Was = Was(before.Line, piece),
                Becomes = piece.Text,
                Edits = own,
                Nights = nights,
                Because = found.Likeness(grid, piece) is < 0.95 and var part ? FormattableString.Invariant($"by hand; the ride comes near it for {part * 100:0} % of its time") : "by hand",
            };
        }
    }

    private static string Was(LevelLine line, LevelPiece piece) =>
        string.Join(", then ", line.Segments.Where(segment => segment.To > piece.From && segment.From < piece.To)
            .Select(SegmentText.Of)
            .DistinctAdjacent());

    private static IEnumerable<string> DistinctAdjacent(this IEnumerable<string> texts)
    {
        string? before = null;
        foreach (var text in texts)
        {
            if (text != before) yield return text;
            before = text;
        }
    }
}
