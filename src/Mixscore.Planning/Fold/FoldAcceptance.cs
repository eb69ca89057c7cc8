using System.Globalization;

namespace Mixscore.Planning;

/// <summary>Writes accepted proposals into a plan's text: the lines that they are about, and no other.</summary>
public static class FoldAcceptance
{
    /// <summary>Writes one.</summary>
    /// <exception cref="Score.InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public static void Write(FoldProposal proposal, PlanEditor editor)
    {
        switch (proposal.Kind)
        {
            default:
                foreach (var edit in proposal.Edits)
                {
                    if (edit.IsRemoved) editor.RemoveMark(proposal.Source, edit.Mark.From, edit.Mark.To);
                    else editor.SetMark(proposal.Source, edit.Mark, NoteOf(proposal.Nights));
                }
                break;
        }
    }

    /// <summary>What stands behind an accepted mark, such as <c>by hand 2026-11-25, Quay Hall</c>.</summary>
    public static string NoteOf(IReadOnlyList<FoldNight> nights) =>
        nights.Count == 0 ? "by hand" : "by hand " + string.Join("; ", nights.GroupBy(night => night.Hall).Select(hall =>
            string.Join(", ", hall.Select(night => night.Date?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)).Append(hall.Key).Where(part => part is not null).Distinct())));
}
