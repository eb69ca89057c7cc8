namespace Mixscore.Planning;

/// <summary>A proposal with another level than the one proposed, as the engineer writes it.</summary>
public static class FoldEdit
{
    /// <summary>Reads what the engineer wrote.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="text">A level as a mark has it, or dB for an offset.</param>
    /// <param name="dynamics">What the dynamics stand for.</param>
    /// <param name="edited">The proposal so changed; the same where there is a problem.</param>
    /// <returns>What is wrong, in words; <c>null</c> where nothing is.</returns>
    public static string? Read(FoldProposal proposal, string text, DynamicsTable dynamics, out FoldProposal edited)
    {
        edited = proposal;
        if (proposal.Kind == FoldKind.Offset)
        {
            if (Measure.Offset.Read(text, out _) is { } wrong) return $"{wrong.Found}; {wrong.Remedy}";
            edited = proposal with { Becomes = text.Trim() };
            return null;
        }
        if (MarkText.Read(text, dynamics, out var start, out var end, out var within, out var clear) is { } problem) return $"{problem.Found}; {problem.Remedy}";
        var at = proposal.Edits.ToList().FindIndex(edit => !edit.IsRemoved);
        if (at < 0) return "only marks are taken out here; accept or refuse it";
        var mark = proposal.Edits[at].Mark;
        if (mark.To is null && !start.Equals(end)) return "a move needs a range to move over; write one level";
        mark = mark with { Start = start, End = end, Within = within, Clear = clear };
        edited = proposal with { Becomes = MarkText.Write(mark), Edits = [.. proposal.Edits.Take(at), new MarkEdit(mark, IsRemoved: false), .. proposal.Edits.Skip(at + 1)] };
        return null;
    }
}
