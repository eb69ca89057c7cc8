using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>One point of a fader's law.</summary>
/// <param name="Gain">The gain of the fader.</param>
/// <param name="Value">The number on the wire that stands for it.</param>
public readonly record struct LawPoint(Decibels Gain, double Value);
