using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One click.</summary>
/// <param name="Time">When it sounds: seconds from the start of the piece, below 0 in the count-in.</param>
/// <param name="Kind">What it marks.</param>
/// <param name="Bar">The bar's place in the played order, from 1; 0 and below in the count-in.</param>
/// <param name="Beat">The beat of the bar that it stands on or in, from 1.</param>
/// <param name="Led">Where it stands in quarters from the start of the count-in.</param>
public readonly record struct ClickStroke(Seconds Time, ClickKind Kind, int Bar, int Beat, Quarters Led);
