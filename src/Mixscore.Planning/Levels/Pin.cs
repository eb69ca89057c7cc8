using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A stretch of a ride that the engineer gives: straight in dB from one beat to another, or one vertex.</summary>
/// <param name="From">The beat on which it begins.</param>
/// <param name="To">The beat on which it ends; <paramref name="From"/> for one vertex.</param>
/// <param name="Start">The fader's gain at its beginning.</param>
/// <param name="End">The fader's gain at its end.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record Pin(Quarters From, Quarters To, Decibels Start, Decibels End, Place Place);
