using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The marks of one source, in order, and how other levels are put into them.</summary>
internal sealed class FoldedMarks
{
    private readonly FoldGrid _grid;
    private readonly Decibels _bottom;

    internal FoldedMarks(IReadOnlyList<PlacedMark> marks, FoldGrid grid, Decibels bottom, Decibels offset) =>
        (All, _grid, _bottom, Offset, Line) = (marks, grid, bottom, offset, LevelLineBuilder.Build(marks, grid.Timeline.End, bottom, offset));

    /// <summary>How much higher the line is than the marks are written.</summary>
    internal Decibels Offset { get; }

    internal IReadOnlyList<PlacedMark> All { get; }

    internal LevelLine Line { get; }

    internal static FoldedMarks Of(MixPlan plan, string source, FoldGrid grid, Decibels offset)
    {
        var faults = new FaultList();
        var written = plan.Levels.FirstOrDefault(levels => levels.Source == source)?.Marks ?? [];
        var placed = written.Select(mark => PlacedMark.Place(mark, source, grid.Timeline, faults)).OfType<PlacedMark>();
        return new FoldedMarks([.. PlacedMark.InOrder(placed, source, faults)], grid, plan.Limits.Bottom, offset);
    }

    /// <summary>The first place after one where a mark stands.</summary>
    internal Quarters? Next(Quarters place) => All.Where(mark => mark.From > place).Select(mark => (Quarters?)mark.From).FirstOrDefault();

    /// <summary>The marks with other levels over a stretch; from <paramref name="until"/> on they ask for what they asked before.</summary>
    /// <param name="pieces">The levels, one following the other; the last is held.</param>
    /// <param name="until">At or after the last one's end.</param>
    internal FoldedMarks With(IReadOnlyList<LevelPiece> pieces, Quarters until)
    {
        var from = pieces[0].From;
        var marks = All.Where(mark => mark.From < from).Select(mark => mark.To > from ? CutAt(mark, from) : mark).ToList();
        foreach (var piece in pieces)
            if (!Holds(marks, MarkOf(piece).Mark)) marks.Add(MarkOf(piece));
        if (until < Line.End && All.All(mark => mark.From != until) && Restored(until) is var restored && !Holds(marks, restored.Mark)) marks.Add(restored);
        return new FoldedMarks([.. marks, .. All.Where(mark => mark.From >= until)], _grid, _bottom, Offset);
    }

    /// <summary>The levels over a stretch, each so much higher.</summary>
    internal IReadOnlyList<LevelPiece> Shifted(Quarters from, Quarters to, Decibels by) =>
        [.. Line.Segments.Where(segment => segment.To > from && segment.From < to).Select(segment =>
        {
            var (first, last) = (Quarters.Max(segment.From, from), Quarters.Min(segment.To, to));
            return new LevelPiece(first, last, Higher(LevelAt(segment, first), by), Higher(LevelAt(segment, last), by)) { Within = segment.Mark?.Within, Clear = segment.Mark?.Clear };
        })];

    /// <summary>What a mark is called where the plan has one there already; otherwise as the timeline names the place.</summary>
    private Position Named(Quarters place) =>
        All.FirstOrDefault(mark => mark.From == place)?.Mark.From ?? All.FirstOrDefault(mark => mark.To == place)?.Mark.To ?? _grid.Timeline.PositionAt(place);

    private PlacedMark MarkOf(LevelPiece piece)
    {
        var to = piece.IsHeld ? (Quarters?)null : piece.To;
        return new PlacedMark(piece.From, to, new Mark(Named(piece.From), to is { } end ? Named(end) : null, piece.Start, piece.End, default) { Within = piece.Within, Clear = piece.Clear });
    }

    private PlacedMark CutAt(PlacedMark mark, Quarters place)
    {
        var level = LevelAt(Line.SegmentAt(mark.From), place);
        return new PlacedMark(mark.From, place, mark.Mark with { To = Named(place), End = level });
    }

    private PlacedMark Restored(Quarters place)
    {
        var segment = Line.SegmentAt(place);
        if (segment is LevelSegment.Straight { IsHeld: false, Mark: { } move })
            return new PlacedMark(place, segment.To, move with { From = Named(place), To = Named(segment.To), Start = LevelAt(segment, place) });
        var end = segment.Mark?.End ?? new Level.Off();
        return new PlacedMark(place, null, new Mark(Named(place), null, end, end, default) { Within = segment.Mark?.Within, Clear = segment.Mark?.Clear });
    }

    /// <summary>Whether a held mark would say what the one before it holds already.</summary>
    private static bool Holds(List<PlacedMark> marks, Mark mark) => marks.Count == 0
        ? mark is { Start: Level.Off, End: Level.Off }
        : mark.Start.Equals(mark.End) && Says(marks[^1].Mark with { Start = mark.Start }, mark);

    private static bool Says(Mark a, Mark b) => a.Start.Equals(b.Start) && a.End.Equals(b.End) && a.Within == b.Within && a.Clear == b.Clear;

    private Level LevelAt(LevelSegment segment, Quarters place) => segment switch
    {
        LevelSegment.Straight { IsHeld: true } => segment.Mark!.End,
        LevelSegment.Straight straight when place == straight.From => straight.Mark!.Start,
        LevelSegment.Straight straight when place == straight.To => straight.Mark!.End,
        LevelSegment.Straight straight => new Level.At(Decibels.Of(Math.Round(AskedLevel.At(Line, straight, place.ToDouble(), (_, _) => null)!.Value - Offset.Value, 1))),
        _ => segment.Mark?.End ?? new Level.Off(),
    };

    private static Level Higher(Level level, Decibels by) => level switch
    {
        Level.At at => new Level.At(Decibels.Of(Math.Round((at.OverReference + by).Value, 1))),
        Level.Lean lean => lean with { By = Decibels.Of(Math.Round((lean.By + by).Value, 1)) },
        _ => level,
    };

    /// <summary>What would have to be set and taken out to come from other marks to these.</summary>
    internal IReadOnlyList<(Quarters At, MarkEdit Edit)> EditsFrom(FoldedMarks before)
    {
        static (Quarters, Quarters?) Key(PlacedMark mark) => (mark.From, mark.To);
        var (was, now) = (before.All.ToDictionary(Key), All.ToDictionary(Key));
        var taken = before.All.Where(mark => !now.ContainsKey(Key(mark))).Select(mark => (mark.From, new MarkEdit(mark.Mark, IsRemoved: true)));
        var set = All.Where(mark => !was.TryGetValue(Key(mark), out var old) || !Says(old.Mark, mark.Mark)).Select(mark => (mark.From, new MarkEdit(mark.Mark, IsRemoved: false)));
        // Taken out first: a range may be put where a mark was.
        return [.. taken.Concat(set).OrderBy(edit => edit.From)];
    }
}
