using Mixscore.Planning;

namespace Mixscore.Screen;

/// <summary>Asks about proposals one by one, or about all of a source; nothing is accepted that was not said yes to.</summary>
internal sealed class FoldReview(Terminal terminal, DynamicsTable dynamics)
{
    /// <summary>Asks, and gives what was accepted, as it was accepted.</summary>
    internal IReadOnlyList<FoldProposal> Ask(IReadOnlyList<FoldProposal> proposals)
    {
        var (accepted, settled) = (new List<FoldProposal>(), new Dictionary<string, bool>(StringComparer.Ordinal));
        for (var i = 0; i < proposals.Count; i++)
        {
            if (settled.TryGetValue(proposals[i].Source, out var all))
            {
                if (all) accepted.Add(proposals[i]);
                continue;
            }
            terminal.Say();
            terminal.Say($"{i + 1} of {proposals.Count}  {Words(proposals[i])}");
            if (!Answer(proposals[i], accepted, settled)) break;
        }
        return accepted;
    }

    /// <summary>A proposal as one would say it.</summary>
    internal static string Words(FoldProposal proposal) => proposal.Kind == FoldKind.Offset
        ? $"{proposal.Because}: its offset{(proposal.Hall is { } hall ? $" in {hall}" : "")} {proposal.Was} becomes {proposal.Becomes}"
        : $"{proposal.Source}, {proposal.From} to {proposal.To}: {proposal.Was} becomes {proposal.Becomes} ({proposal.Because})";

    /// <returns>False to end the review.</returns>
    private bool Answer(FoldProposal proposal, List<FoldProposal> accepted, Dictionary<string, bool> settled)
    {
        while (true)
        {
            terminal.Say($"  y accept   n refuse   e LEVEL accept another   A accept all of {proposal.Source}   N refuse all of it   q end");
            if (terminal.In.ReadLine()?.Trim() is not { } answer) return false;
            switch (answer.Split(' ')[0])
            {
                case "y": accepted.Add(proposal); return true;
                case "n": return true;
                case "A": settled[proposal.Source] = true; accepted.Add(proposal); return true;
                case "N": settled[proposal.Source] = false; return true;
                case "q": return false;
                case "e":
                    if (FoldEdit.Read(proposal, answer[1..].Trim(), dynamics, out var edited) is not { } problem)
                    {
                        accepted.Add(edited);
                        return true;
                    }
                    terminal.Say($"  {problem}");
                    break;
                default: terminal.Say($"  \"{answer}\" is no answer."); break;
            }
        }
    }
}
