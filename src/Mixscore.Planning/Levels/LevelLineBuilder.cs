using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Draws a level line through marks.</summary>
internal static class LevelLineBuilder
{
    /// <summary>The line of marks that are in order and do not overlap, so much higher than they are written.</summary>
    internal static LevelLine Build(IReadOnlyList<PlacedMark> marks, Quarters end, Decibels bottom, Decibels offset = default)
    {
        var segments = new List<LevelSegment>();
        if (marks.Count == 0 || marks[0].From > Quarters.Zero)
            segments.Add(new LevelSegment.Off(Quarters.Zero, marks.Count == 0 ? end : marks[0].From, null));
        for (var i = 0; i < marks.Count; i++)
        {
            var mark = marks[i];
            var next = i + 1 < marks.Count ? marks[i + 1].From : end;
            var from = mark.From;
            if (mark.To is { } to && mark.Mark.Start != mark.Mark.End)
            {
                segments.Add(new LevelSegment.Straight(from, to, mark.Mark, Value(mark.Mark.Start, offset), Value(mark.Mark.End, offset)));
                from = to;
            }
            if (from < next) segments.Add(Held(from, next, mark.Mark, offset));
        }
        return new LevelLine(segments, bottom);
    }

    private static LevelSegment Held(Quarters from, Quarters to, Mark mark, Decibels offset) => mark.End switch
    {
        Level.Lean lean => new LevelSegment.Leaning(from, to, mark, lean.Sources, lean.By + offset),
        Level.At at => new LevelSegment.Straight(from, to, mark, at.OverReference + offset, at.OverReference + offset),
        _ => new LevelSegment.Off(from, to, mark),
    };

    private static Decibels? Value(Level level, Decibels offset) => (level as Level.At)?.OverReference + offset;
}
