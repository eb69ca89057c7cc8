using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A level over a stretch, for a mark to ask for.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where the next begins.</param>
/// <param name="Start">The level at its beginning.</param>
/// <param name="End">The level at its end; the same for one that is held.</param>
internal sealed record LevelPiece(Quarters From, Quarters To, Level Start, Level End)
{
    internal Decibels? Within { get; init; }

    internal Decibels? Clear { get; init; }

    /// <summary>As a mark's text.</summary>
    internal string Text => MarkText.Write(Start, End, Within, Clear);

    internal bool IsHeld => Start.Equals(End);
}
