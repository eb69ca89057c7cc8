using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A corner of a ride.</summary>
/// <param name="At">Where it stands, in quarters from the start.</param>
/// <param name="Gain">The fader's gain; <c>null</c> where it is off.</param>
public readonly record struct Vertex(Quarters At, Decibels? Gain);
