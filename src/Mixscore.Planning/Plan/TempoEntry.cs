using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One line of the plan's <c>tempo:</c>: a tempo, a change of tempo, or a hold, where the score leaves it open.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where a change ends; <c>null</c> for a tempo that stays until the next mark, and for a hold.</param>
/// <param name="StartTempo">Quarters a minute; <c>null</c> for a hold.</param>
/// <param name="EndTempo">Quarters a minute where the range ends, equal to the start for one tempo over a range;
/// <c>null</c> without a range.</param>
/// <param name="Hold">How long the beat at <paramref name="From"/> lasts in all (a fermata); <c>null</c> otherwise.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record TempoEntry(Position From, Position? To, double? StartTempo, double? EndTempo, Seconds? Hold, Place Place);
