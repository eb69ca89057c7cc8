using System.Text.Json;
using Mixscore.Audio;
using Mixscore.Live;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>What a night suggests for the plan that is being edited, as <c>fold</c> finds it.</summary>
internal sealed class NightProposals
{
    private readonly IReadOnlyList<string> _notes;
    private readonly Timeline _timeline;

    private NightProposals(PageProject project, Folded folded, IReadOnlyList<string> notes) =>
        (Text, _timeline, Folded, _notes) = (project.Text!, project.Timeline, folded, notes);

    /// <summary>The plan's text that it is about.</summary>
    internal string Text { get; }

    internal Folded Folded { get; }

    internal static NightProposals Of(Night night, PageProject project)
    {
        var hands = NightHands.Of(night, LivePlan.Of(project.OnScore, project.Rides), out var notes);
        return new NightProposals(project, Folding.Of(project.OnScore, SourcesToFit.Of(project.OnScore, project.Stems), [hands], Folding.UsualTolerance), notes);
    }

    /// <summary>Those that go into the plan, or the one of them that a page names; a hall's file is not edited on the page.</summary>
    /// <param name="key">As <see cref="Write"/> calls it; <c>null</c> for all.</param>
    internal IReadOnlyList<FoldProposal> Chosen(string? key) => [.. Folded.Proposals.Where(proposal => proposal.Hall is null && (key is null || KeyOf(proposal) == key))];

    /// <summary>As the page takes it: positions as they are written, and each level as a line in quarters and LU.</summary>
    internal byte[] Write() => JsonSerializer.SerializeToUtf8Bytes(new
    {
        proposals = Folded.Proposals.Select(proposal => new
        {
            key = KeyOf(proposal),
            source = proposal.Source,
            from = $"{proposal.From}",
            to = $"{proposal.To}",
            was = proposal.Was,
            becomes = proposal.Becomes,
            because = proposal.Because,
            hall = proposal.Hall,
            line = LineOf(proposal),
        }),
        notes = _notes
            .Concat(Folded.LeftOut.Select(left => $"Left out: {left.Source}, {left.From} to {left.To}: {left.Reason}.")),
    });

    private static string KeyOf(FoldProposal proposal) => $"{proposal.Source} {proposal.From}..{proposal.To} {proposal.Becomes}";

    private IReadOnlyList<double> LineOf(FoldProposal proposal)
    {
        if (proposal.Edits.FirstOrDefault(edit => !edit.IsRemoved && edit.Mark.From == proposal.From)?.Mark is not { Start: Level.At start, End: Level.At end }
            || !_timeline.TryResolve(proposal.From, out var from, out _) || !_timeline.TryResolve(proposal.To, out var to, out _)) return [];
        return [from.ToDouble(), start.OverReference.Value, to.ToDouble(), end.OverReference.Value];
    }
}
