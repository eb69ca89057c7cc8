using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A stretch of a source's level line.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends; later than <paramref name="From"/>.</param>
/// <param name="Mark">The mark that asks for it; <c>null</c> before the first mark.</param>
public abstract record LevelSegment(Quarters From, Quarters To, Mark? Mark)
{
    /// <summary>How far the source may stray from its level here.</summary>
    /// <param name="usual">How far it may where the mark says nothing of it.</param>
    public Decibels Within(Decibels usual) => Mark?.Within ?? usual;

    /// <summary>Not heard: marked off, or not marked yet.</summary>
    public sealed record Off(Quarters From, Quarters To, Mark? Mark) : LevelSegment(From, To, Mark)
    {
        /// <summary>Whether this is the stretch before the first mark.</summary>
        public bool IsUnmarked => Mark is null;
    }

    /// <summary>A level, held or moving in a straight line in LU over quarters.</summary>
    /// <param name="From">Where it begins.</param>
    /// <param name="To">Where it ends.</param>
    /// <param name="Mark">The mark that asks for it.</param>
    /// <param name="Start">LU over the reference at its beginning; <c>null</c> where it rises from off.</param>
    /// <param name="End">LU over the reference at its end; <c>null</c> where it falls to off. One of the two is a level.</param>
    public sealed record Straight(Quarters From, Quarters To, Mark? Mark, Decibels? Start, Decibels? End) : LevelSegment(From, To, Mark)
    {
        /// <summary>Whether it does not move.</summary>
        public bool IsHeld => Start == End;
    }

    /// <summary>A level that follows other sources as they will be heard.</summary>
    /// <param name="From">Where it begins.</param>
    /// <param name="To">Where it ends.</param>
    /// <param name="Mark">The mark that asks for it.</param>
    /// <param name="Sources">The names of those that it leans on; at least one.</param>
    /// <param name="By">LU over them all together; under them where below 0.</param>
    public sealed record Leaning(Quarters From, Quarters To, Mark? Mark, IReadOnlyList<string> Sources, Decibels By)
        : LevelSegment(From, To, Mark);
}

/// <summary>A place where a level line leaps, for the fit to turn into a move.</summary>
/// <param name="At">The place: the end of one segment and the beginning of the next.</param>
/// <param name="Before">The segment that ends there.</param>
/// <param name="After">The segment that begins there.</param>
public readonly record struct LevelStep(Quarters At, LevelSegment Before, LevelSegment After);
