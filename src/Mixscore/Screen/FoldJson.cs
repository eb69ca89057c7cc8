using Mixscore.Steps;

namespace Mixscore.Screen;

/// <summary>What <c>fold --json</c> prints.</summary>
internal static class FoldJson
{
    internal static object Of(FoldStep.Result result) => new
    {
        proposals = result.Folded.Proposals.Select(proposal => new
        {
            source = proposal.Source,
            from = $"{proposal.From}",
            to = $"{proposal.To}",
            was = proposal.Was,
            becomes = proposal.Becomes,
            kind = $"{proposal.Kind}".ToLowerInvariant(),
            because = proposal.Because,
            hall = proposal.Hall,
            marks = proposal.Edits.Select(edit => new { position = $"{edit.Mark.From}{(edit.Mark.To is { } to ? $"..{to}" : "")}", removed = edit.IsRemoved }),
            nights = proposal.Nights.Select(night => $"{night}"),
        }),
        spreads = result.Folded.Spreads.Select(spread => new { source = spread.Source, from = $"{spread.From}", to = $"{spread.To}", nights = spread.Nights.Select(night => new { night = $"{night.Night}", overPlan = JsonOut.Rounded(night.OverPlan.Value, 1) }) }),
        leftOut = result.Folded.LeftOut.Select(left => new { source = left.Source, from = $"{left.From}", to = $"{left.To}", because = left.Reason, night = left.Night?.ToString() }),
        notes = result.Notes,
    };
}
