using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>What a draft has for one source.</summary>
/// <param name="Source">The source's name.</param>
/// <param name="Marks">The marks, in order; empty where none are drafted.</param>
/// <param name="LeftOut">Why none are drafted, in words; <c>null</c> where some are.</param>
/// <param name="Touches">How many accents (sf, sfz, fz) were passed over: they touch a note and set no level.</param>
public sealed record DraftedSource(string Source, IReadOnlyList<Mark> Marks, string? LeftOut = null, int Touches = 0);

/// <summary>
/// First marks from what the score says: a dynamic lasts until the next, a hairpin moves to the dynamic at its end or one
/// step of the table, a source is off where its part rests for two bars or more. Written as dynamics, so that the plan's
/// table decides what they mean, and for every pass.
/// </summary>
public static class FirstMarks
{
    /// <summary>The comment that drafted marks carry.</summary>
    public const string Comment = "drafted";

    /// <summary>Drafts marks for every source that has a part and no marks yet.</summary>
    /// <param name="plan">The plan on its score.</param>
    /// <returns>Every source of the plan, in its order.</returns>
    public static IReadOnlyList<DraftedSource> Of(PlanOnScore plan)
    {
        var performance = Performance.Of(plan.Score, plan.Timeline);
        var marked = plan.Plan.Levels.Where(levels => levels.Marks.Count > 0).Select(levels => levels.Source)
            .ToHashSet(StringComparer.Ordinal);
        return [.. plan.Sources.Select(source =>
        {
            var name = source.Source.Name;
            if (marked.Contains(name)) return new DraftedSource(name, [], "it has marks, which stay as they are");
            if (source.Part is null) return new DraftedSource(name, [], "it names no part of the score");
            var part = performance.Parts.Single(part => part.Id == source.Part.Id);
            var marks = Of(source.Source.Staff is { } staff ? part.OnStaff(staff) : part, plan.Timeline, plan.Plan.Dynamics, out var touches);
            return new DraftedSource(name, marks, Touches: touches);
        })];
    }

    /// <summary>Writes a draft into a plan's text. What a person wrote is not touched.</summary>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done.</exception>
    public static void Write(IEnumerable<DraftedSource> draft, PlanEditor editor)
    {
        foreach (var source in draft.Where(source => source.Marks.Count > 0)) editor.AddMarks(source.Source, source.Marks, Comment);
    }

    /// <summary>The marks of one part.</summary>
    internal static IReadOnlyList<Mark> Of(PerformedPart part, Timeline timeline, DynamicsTable table, out int touches)
    {
        var marks = new List<Mark>();
        var now = "";
        foreach (var piece in WithRests(DynamicsReading.Of(part, timeline, table, out touches), Rests.Of(part.Notes, timeline)))
        {
            if (piece.Moves || piece.Start != now) marks.Add(MarkOf(piece, timeline, table));
            now = piece.End;
        }
        return marks;
    }

    /// <summary>Rests cut the levels; a move that a rest cuts has reached its end there.</summary>
    private static IEnumerable<DraftPiece> WithRests(IReadOnlyList<DraftPiece> pieces, IReadOnlyList<(Quarters From, Quarters To)> rests)
    {
        var cut = new List<DraftPiece>();
        foreach (var piece in pieces)
        {
            var (at, start) = (piece.From, piece.Start);
            foreach (var rest in rests.Where(rest => rest.From < piece.To && rest.To > piece.From))
            {
                if (rest.From > at) cut.Add(piece with { From = at, To = rest.From, Start = start });
                at = Quarters.Max(at, rest.To);
                start = piece.End;
            }
            if (at < piece.To) cut.Add(piece with { From = at, Start = start });
        }
        cut.AddRange(rests.Select(rest => new DraftPiece(rest.From, rest.To, DynamicWord.Nothing, DynamicWord.Nothing)));
        return cut.OrderBy(piece => piece.From);
    }

    private static Mark MarkOf(DraftPiece piece, Timeline timeline, DynamicsTable table) => new(
        timeline.PositionAt(piece.From), piece.Moves ? timeline.PositionAt(piece.To) : null, LevelOf(piece.Start, table),
            LevelOf(piece.End, table), default);

    private static Level LevelOf(string name, DynamicsTable table) =>
        table[name] is { } level ? new Level.At(level, name) : new Level.Off();
}
