using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A stretch of a draft: a dynamic that holds, or a move between two.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends, later.</param>
/// <param name="Start">The dynamic at its beginning, or <see cref="DynamicWord.Nothing"/>.</param>
/// <param name="End">The dynamic at its end.</param>
internal readonly record struct DraftPiece(Quarters From, Quarters To, string Start, string End)
{
    internal bool Moves => Start != End;
}
