using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A source with its part and its levels found in the score.</summary>
/// <param name="Source">The source.</param>
/// <param name="Part">The part that it plays; <c>null</c> where the plan names none.</param>
/// <param name="Levels">What should be heard of it.</param>
/// <param name="Pins">Where its ride is given, in order.</param>
public sealed record PlannedSource(Source Source, Part? Part, LevelLine Levels, IReadOnlyList<Pin> Pins);
