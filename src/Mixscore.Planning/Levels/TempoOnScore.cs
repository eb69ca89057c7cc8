using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Hands the plan's tempi to the score, and brings back in the plan's words what did not fit.</summary>
internal static class TempoOnScore
{
    internal static TempoOverride Override(TempoEntry entry) => new(entry.From, entry.To, entry.StartTempo, entry.EndTempo, entry.Hold);

    /// <summary>The tempo file from the place on that the plan says.</summary>
    internal static TempoFile From(WrittenTempoFile written, TempoFile file, FaultList faults)
    {
        if (written.Begin is not { } begin) return file;
        if (file.BeginningAt(begin, out var problem) is { } begun) return begun;
        faults.Add(PlanFault.NotInScore, written.BeginPlace, $"tempo-from, {RangeText.Spoken($"{begin}")} of {Path.GetFileName(file.File)}: {problem}", "write a position that the file has");
        return file;
    }

    internal static void Report(IReadOnlyList<TempoEntry> entries, BuiltTimeline built, FaultList faults)
    {
        var misplaced = new HashSet<int>();
        for (var i = 0; i < entries.Count; i++)
        {
            var entry = entries[i];
            if (Span.Find(entry.From, entry.To, entry.Place, $"tempo, {RangeText.Spoken($"{entry.From}")}", built.Timeline, faults) is null)
                misplaced.Add(i);
        }
        foreach (var problem in built.Problems.Where(problem => !misplaced.Contains(problem.Override)))
        {
            var entry = entries[problem.Override];
            faults.Add(PlanFault.TempoOutOfPlace, entry.Place, $"tempo, {RangeText.Spoken($"{entry.From}")}: {problem.Problem}", "");
        }
    }
}
