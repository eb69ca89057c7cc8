using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The file whose tempo the players hear, where that is not the score's.</summary>
/// <param name="File">As written in the plan: relative to the project folder.</param>
/// <param name="Begin">The position in that file where the score begins; <c>null</c> for its start, or behind a filled-up upbeat.</param>
/// <param name="Place">Where it stands in the plan; where it was given beside the plan, the plan's file.</param>
/// <param name="BeginPlace">Where the position stands; the same where none is written.</param>
public sealed record WrittenTempoFile(string File, Position? Begin, Place Place, Place BeginPlace);
