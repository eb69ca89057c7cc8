using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// What should be heard of one source over the whole piece: segments that follow one another without gap from the start
/// to the end. A mark is held until the next; a move goes over its range and its end is held. Immutable.
/// </summary>
public sealed class LevelLine
{
    private readonly LevelSegment[] _segments;
    private readonly double[] _starts;

    /// <summary>A line of segments.</summary>
    /// <param name="segments">At least one, the first at zero, each beginning where the one before ends.</param>
    /// <param name="bottom">How many LU stand for off at the end of a move to or from it; below any level.</param>
    /// <exception cref="ArgumentException">The segments are not so.</exception>
    public LevelLine(IReadOnlyList<LevelSegment> segments, Decibels bottom)
    {
        if (segments.Count == 0) throw new ArgumentException("a level line needs a segment", nameof(segments));
        var at = Quarters.Zero;
        foreach (var segment in segments)
        {
            if (segment.From != at || segment.To <= at)
                throw new ArgumentException($"a segment runs from {segment.From} to {segment.To} quarters where one should begin at {at}",
                    nameof(segments));
            if (segment is LevelSegment.Straight { Start: null, End: null })
                throw new ArgumentException($"the segment at {at} quarters is off at both ends", nameof(segments));
            at = segment.To;
        }
        (_segments, Bottom, End) = ([.. segments], bottom, at);
        _starts = [.. segments.Select(segment => segment.From.ToDouble())];
        Steps = [.. FindSteps()];
    }

    /// <summary>The segments in order.</summary>
    public IReadOnlyList<LevelSegment> Segments => _segments;

    /// <summary>Where it leaps, in order. Where one side leans, the place is always given: how far it leaps is not known yet.</summary>
    public IReadOnlyList<LevelStep> Steps { get; }

    /// <summary>
    /// How many LU stand for off where a move rises from it or falls to it: the bottom of the fader's range, so that the
    /// line and a ride at unity are the same.
    /// </summary>
    public Decibels Bottom { get; }

    /// <summary>The end of the piece.</summary>
    public Quarters End { get; }

    /// <summary>Whether the source is off all the way.</summary>
    public bool IsSilent => _segments.All(segment => segment is LevelSegment.Off);

    /// <summary>The names of all sources that this one leans on somewhere, each once, in the order in which they are met.</summary>
    public IReadOnlyList<string> LeansOn =>
        [.. _segments.OfType<LevelSegment.Leaning>().SelectMany(segment => segment.Sources).Distinct(StringComparer.Ordinal)];

    /// <summary>The segment at a place; where one ends, the next. The first before the start, the last at the end and after.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    public LevelSegment SegmentAt(double quarters)
    {
        var found = Array.BinarySearch(_starts, quarters);
        return _segments[found >= 0 ? found : Math.Max(0, ~found - 1)];
    }

    /// <inheritdoc cref="SegmentAt(double)"/>
    public LevelSegment SegmentAt(Quarters quarters)
    {
        int low = 0, high = _segments.Length - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (_segments[middle].From <= quarters) low = middle;
            else high = middle - 1;
        }
        return _segments[low];
    }

    /// <summary>The level at a place where it does not lean: LU over the reference, or <c>null</c> for off.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    /// <exception cref="InvalidOperationException">The level leans on other sources there; ask with what they are heard at.</exception>
    public Decibels? LevelAt(double quarters) =>
        LevelAt(quarters, (_, at) => throw new InvalidOperationException($"the level leans on other sources at {at} quarters"));

    /// <summary>The level at a place: LU over the reference, or <c>null</c> for off.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    /// <param name="heard">How loud these sources are heard together there, in LU over the reference; <c>null</c> for not at all.</param>
    public Decibels? LevelAt(double quarters, Func<IReadOnlyList<string>, double, Decibels?> heard) =>
        LevelOn(SegmentAt(quarters), quarters, heard);

    private Decibels? LevelOn(LevelSegment segment, double quarters, Func<IReadOnlyList<string>, double, Decibels?> heard)
    {
        switch (segment)
        {
            case LevelSegment.Straight { IsHeld: true } held:
                return held.Start;
            case LevelSegment.Straight move:
                var part = Math.Clamp((quarters - move.From.ToDouble()) / (move.To - move.From).ToDouble(), 0, 1);
                if ((part == 0 && move.Start is null) || (part == 1 && move.End is null)) return null;
                var (start, end) = (move.Start ?? Bottom, move.End ?? Bottom);
                return start + (end - start) * part;
            case LevelSegment.Leaning lean:
                return heard(lean.Sources, quarters) + lean.By;
            default:
                return null;
        }
    }

    private IEnumerable<LevelStep> FindSteps()
    {
        for (var i = 1; i < _segments.Length; i++)
        {
            var (before, after) = (_segments[i - 1], _segments[i]);
            if (Leaps(before, after)) yield return new LevelStep(after.From, before, after);
        }
    }

    private static bool Leaps(LevelSegment before, LevelSegment after) => (before, after) switch
    {
        (LevelSegment.Leaning a, LevelSegment.Leaning b) =>
            a.By != b.By || !a.Sources.Order(StringComparer.Ordinal).SequenceEqual(b.Sources.Order(StringComparer.Ordinal)),
        (LevelSegment.Leaning, _) or (_, LevelSegment.Leaning) => true,
        _ => (before as LevelSegment.Straight)?.End != (after as LevelSegment.Straight)?.Start,
    };
}
