using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Where the marks of one source ask for something else than they did.</summary>
internal static class LevelChanges
{
    private const double Same = 1e-6;

    internal static IReadOnlyList<LevelChange> Of(PlannedSource before, PlannedSource after, SharedBars bars, Timeline timeline)
    {
        var (was, now) = (new Side(before), new Side(after));
        var found = new List<Piece>();
        foreach (var (first, second) in bars.Pairs)
        {
            var places = was.BreaksIn(first).Concat(now.BreaksIn(second)).Append(Quarters.Zero).Append(first.Length).Distinct().Order().ToArray();
            for (var i = 0; i + 1 < places.Length; i++)
            {
                var (old, young) = (was.Over(first.Start + places[i], first.Start + places[i + 1]), now.Over(second.Start + places[i], second.Start + places[i + 1]));
                if (AreSame(old, young)) continue;
                var piece = new Piece(second.Start + places[i], second.Start + places[i + 1], SegmentText.Of(old.Segment), SegmentText.Of(young.Segment), Higher(old, young));
                if (found.Count > 0 && found[^1].GoesOn(piece)) found[^1] = found[^1].With(piece);
                else found.Add(piece);
            }
        }
        return [.. found.Select(piece => new LevelChange(before.Source.Name, ComparedStretch.Of(timeline, piece.From, piece.To), piece.Was, piece.Becomes, piece.By is { } by ? Decibels.Of(by) : null))];
    }

    private static bool AreSame(Asked a, Asked b)
    {
        if (a.Segment.Mark?.Within != b.Segment.Mark?.Within || a.Segment.Mark?.Clear != b.Segment.Mark?.Clear) return false;
        return (a.Segment, b.Segment) switch
        {
            (LevelSegment.Off, LevelSegment.Off) => true,
            (LevelSegment.Leaning one, LevelSegment.Leaning other) => LeansAlike(one, other) && Math.Abs(a.Start!.Value - b.Start!.Value) < Same,
            (LevelSegment.Straight, LevelSegment.Straight) => AreNear(a.Start, b.Start) && AreNear(a.End, b.End),
            _ => false,
        };
    }

    private static bool LeansAlike(LevelSegment.Leaning a, LevelSegment.Leaning b) => a.Sources.ToHashSet(StringComparer.Ordinal).SetEquals(b.Sources);

    private static bool AreNear(double? a, double? b) => a is { } one && b is { } other ? Math.Abs(one - other) < Same : a is null && b is null;

    private static double? Higher(Asked was, Asked now)
    {
        var isOfOneKind = (was.Segment, now.Segment) switch
        {
            (LevelSegment.Leaning one, LevelSegment.Leaning other) => LeansAlike(one, other),
            (LevelSegment.Straight, LevelSegment.Straight) => true,
            _ => false,
        };
        return isOfOneKind && was is { Start: { } a, End: { } b } && now is { Start: { } c, End: { } d } ? (c - a + (d - b)) / 2 : null;
    }

    /// <summary>What is asked over a stretch within one segment: LU at its two ends, over the reference or over what is leaned on; <c>null</c> for off.</summary>
    private readonly record struct Asked(LevelSegment Segment, double? Start, double? End);

    private sealed record Piece(Quarters From, Quarters To, string Was, string Becomes, double? By)
    {
        internal bool GoesOn(Piece next) => To == next.From && Was == next.Was && Becomes == next.Becomes && By is null == next.By is null;

        internal Piece With(Piece next)
        {
            var (mine, its) = ((To - From).ToDouble(), (next.To - next.From).ToDouble());
            return this with { To = next.To, By = By is { } by ? ((by * mine) + (next.By!.Value * its)) / (mine + its) : null };
        }
    }

    private sealed class Side(PlannedSource source)
    {
        private readonly LevelLine _line = source.Levels;
        private readonly Quarters[] _breaks = [.. source.Levels.Segments.Select(segment => segment.From)];
        private readonly double _offset = (source.Source.Offset + source.Source.HallOffset).Value;

        internal IEnumerable<Quarters> BreaksIn(PlayedBar bar)
        {
            var first = Array.BinarySearch(_breaks, bar.Start);
            for (var i = first < 0 ? ~first : first; i < _breaks.Length && _breaks[i] < bar.End; i++) yield return _breaks[i] - bar.Start;
        }

        internal Asked Over(Quarters from, Quarters to)
        {
            var segment = _line.SegmentAt(from);
            double? At(Quarters place) => segment switch
            {
                LevelSegment.Off => null,
                LevelSegment.Leaning leaning => leaning.By.Value - _offset,
                LevelSegment.Straight { Start: null } when place == segment.From => null,
                LevelSegment.Straight { End: null } when place == segment.To => null,
                _ => AskedLevel.At(_line, segment, place.ToDouble(), (_, _) => null) - _offset,
            };
            return new Asked(segment, At(from), At(to));
        }
    }
}
