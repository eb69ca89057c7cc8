namespace Mixscore.Score;

/// <summary>A tempo that the plan says where the score leaves it open: a tempo, a straight change over quarters, or a hold.</summary>
/// <param name="From">Where it begins; for a hold, the beat that is held.</param>
/// <param name="To">Where a change ends; <c>null</c> for a tempo that stays until the next mark, and for a hold.</param>
/// <param name="StartTempo">Quarters a minute at the beginning; <c>null</c> for a hold, or for a change from the tempo that is in force.</param>
/// <param name="EndTempo">Quarters a minute that a change reaches; <c>null</c> for a tempo that stays.</param>
/// <param name="Hold">How long the beat lasts in all; <c>null</c> for no hold.</param>
public sealed record TempoOverride(Position From, Position? To = null, double? StartTempo = null, double? EndTempo = null, Seconds? Hold = null);

/// <summary>Why an override was not applied.</summary>
/// <param name="Override">Its place in the list that was given, from 0.</param>
/// <param name="Problem">In words that a person can act on.</param>
public sealed record OverrideProblem(int Override, string Problem);
