using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One written level: held from its position on, or moving from one level to the next over a range.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where a range ends; <c>null</c> for a mark that is held until the next.</param>
/// <param name="Start">The level at its beginning.</param>
/// <param name="End">The level at its end; equal to the start for a held mark. A move is straight in dB over quarters.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record Mark(Position From, Position? To, Level Start, Level End, Place Place)
{
    /// <summary>How far the source may stray from this level; <c>null</c> for as far as from its others.</summary>
    public Decibels? Within { get; init; }

    /// <summary>How far it must stand over everything else, LU, bar by bar; <c>null</c> where that is not asked.</summary>
    public Decibels? Clear { get; init; }
}

/// <summary>The marks of one source, in the order of the file.</summary>
/// <param name="Source">Its name.</param>
/// <param name="Marks">Its marks.</param>
/// <param name="Place">Where its list stands in the plan.</param>
public sealed record SourceLevels(string Source, IReadOnlyList<Mark> Marks, Place Place);
