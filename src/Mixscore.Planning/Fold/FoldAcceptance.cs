using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Writes accepted proposals into a plan's text: the lines that they are about, and no other.</summary>
public static class FoldAcceptance
{
    /// <summary>Writes one into the plan, or into its hall's file.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="plan">An editor of the plan.</param>
    /// <param name="hall">An editor of the hall's file, for a proposal that goes there.</param>
    /// <exception cref="InputException">The file is laid out so that this cannot be done; nothing is changed.</exception>
    public static void Write(FoldProposal proposal, PlanEditor plan, PlanEditor? hall = null)
    {
        if (proposal.Kind == FoldKind.Mark) WriteMarks(proposal, plan);
        else if (proposal.Hall is null) plan.SetScalar(proposal.Becomes, "sources", proposal.Source, "offset");
        else
        {
            hall!.SetScalar(proposal.Becomes, "offsets", proposal.Source);
            hall.Note(NoteOf(proposal.Nights), "offsets", proposal.Source);
        }
    }

    private static void WriteMarks(FoldProposal proposal, PlanEditor plan)
    {
        // A mark that becomes a range, or a range that becomes a mark, is taken out and put in anew: what a person wrote there goes along.
        var comments = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var edit in proposal.Edits)
        {
            var (from, to) = (edit.Mark.From, edit.Mark.To);
            if (!edit.IsRemoved)
            {
                plan.SetMark(proposal.Source, edit.Mark, NoteOf(proposal.Nights), comments.GetValueOrDefault($"{from}"));
                continue;
            }
            if (plan.CommentOf(proposal.Source, from, to) is { } comment) comments[$"{from}"] = comment;
            plan.RemoveMark(proposal.Source, from, to);
        }
    }

    /// <summary>What stands behind an accepted mark, such as <c>by hand 2026-11-25, Quay Hall</c>.</summary>
    public static string NoteOf(IReadOnlyList<FoldNight> nights) =>
        nights.Count == 0 ? "by hand" : "by hand " + string.Join("; ", nights.GroupBy(night => night.Hall).Select(hall =>
            string.Join(", ", hall.Select(night => night.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)).Append(hall.Key).Where(part => part is not null).Distinct())));
}
