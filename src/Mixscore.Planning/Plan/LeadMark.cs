using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Who leads from a position on, until the next says otherwise.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="Source">The source's name; <c>null</c> for the loudest by level.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record LeadMark(Position From, string? Source, Place Place);
