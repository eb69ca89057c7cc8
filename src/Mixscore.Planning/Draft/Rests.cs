using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Finds where a part rests so long that its feed is better off.</summary>
internal static class Rests
{
    /// <summary>How many whole bars of rest make an off. Common practice, no source.</summary>
    internal const int LeastBars = 2;

    /// <summary>
    /// The long rests in order: each from the barline after the last note to the next note, or to the end of the piece. A
    /// part that has no notes at all is not known to rest.
    /// </summary>
    internal static IReadOnlyList<(Quarters From, Quarters To)> Of(IReadOnlyList<PerformedNote> notes, Timeline timeline)
    {
        if (notes.Count == 0) return [];
        var rests = new List<(Quarters From, Quarters To)>();
        var sounded = Quarters.Zero;
        foreach (var note in notes)
        {
            Add(sounded, note.Start);
            sounded = Quarters.Max(sounded, note.End);
        }
        Add(sounded, timeline.End);
        return rests;

        void Add(Quarters end, Quarters next)
        {
            if (next <= end) return;
            var bar = timeline.BarAt(end);
            var first = bar.Start == end ? bar.Index - 1 : bar.Index;
            var last = first + LeastBars - 1;
            if (last < timeline.Bars.Count && timeline.Bars[last].End <= next) rests.Add((timeline.Bars[first].Start, next));
        }
    }
}
