using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A stretch of a stem, in seconds of the stem.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends; later than <paramref name="From"/>.</param>
public readonly record struct Stretch(Seconds From, Seconds To)
{
    /// <summary>How long it is.</summary>
    public Seconds Length => To - From;

    /// <summary>How much of another stretch lies in it.</summary>
    public Seconds Overlap(Stretch other) =>
        new(Math.Max(0, Math.Min(To.Value, other.To.Value) - Math.Max(From.Value, other.From.Value)));

    /// <summary>What is left of stretches where others are cut out of them.</summary>
    /// <param name="stretches">In order, apart from each other.</param>
    /// <param name="cuts">In order, apart from each other.</param>
    internal static IReadOnlyList<Stretch> Without(IEnumerable<Stretch> stretches, IReadOnlyList<Stretch> cuts)
    {
        var left = new List<Stretch>();
        foreach (var stretch in stretches)
        {
            var from = stretch.From;
            foreach (var cut in cuts.Where(cut => cut.Overlap(stretch) > Seconds.Zero))
            {
                if (cut.From > from) left.Add(new Stretch(from, cut.From));
                from = cut.To;
            }
            if (from < stretch.To) left.Add(new Stretch(from, stretch.To));
        }
        return left;
    }

    /// <summary>Stretches joined where less than a gap lies between two.</summary>
    internal static IReadOnlyList<Stretch> Joined(IEnumerable<Stretch> stretches, Seconds gap)
    {
        var joined = new List<Stretch>();
        foreach (var stretch in stretches)
            if (joined.Count > 0 && stretch.From - joined[^1].To < gap) joined[^1] = joined[^1] with { To = stretch.To > joined[^1].To ? stretch.To : joined[^1].To };
            else joined.Add(stretch);
        return joined;
    }
}
