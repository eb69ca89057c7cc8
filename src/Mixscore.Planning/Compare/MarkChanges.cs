using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The marks of one source that are new, gone, or say something else.</summary>
internal static class MarkChanges
{
    internal static IReadOnlyList<MarkChange> Of(string source, PlanOnScore before, PlanOnScore after, SharedBars bars)
    {
        var was = Placed(before, source).GroupBy(mark => Place(bars.InAfter(mark.From), mark.To is { } to ? bars.InAfter(to) : null)).Where(group => group.Key is not null).ToDictionary(group => group.Key!.Value, group => group.First().Mark);
        var changes = new List<(Quarters At, MarkChange Change)>();
        foreach (var mark in Placed(after, source))
        {
            var becomes = MarkText.Write(mark.Mark);
            was.Remove((mark.From, mark.To), out var old);
            if (old is null || MarkText.Write(old) != becomes) changes.Add((mark.From, new MarkChange(source, Text(mark.Mark), old is null ? null : MarkText.Write(old), becomes)));
        }
        changes.AddRange(was.Select(gone => (gone.Key.Item1, new MarkChange(source, Text(gone.Value), MarkText.Write(gone.Value), null))));
        return [.. changes.OrderBy(change => change.At).Select(change => change.Change)];
    }

    private static (Quarters, Quarters?)? Place(Quarters? from, Quarters? to) => from is { } start ? (start, to) : null;

    private static IEnumerable<PlacedMark> Placed(PlanOnScore onScore, string source)
    {
        var faults = new FaultList();
        var marks = onScore.Plan.Levels.FirstOrDefault(levels => levels.Source == source)?.Marks ?? [];
        return marks.Select(mark => PlacedMark.Place(mark, source, onScore.Timeline, faults)).OfType<PlacedMark>();
    }

    private static string Text(Mark mark) => mark.To is { } to ? $"{mark.From}..{to}" : $"{mark.From}";
}
