using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>One change of one fader.</summary>
/// <param name="At">When it is sent: by the click plus the link's delay, from the start of the piece, in whole microseconds.</param>
/// <param name="Source">Whose fader.</param>
/// <param name="Gain">The gain that the value stands for; <c>null</c> is off.</param>
/// <param name="Value">The number on the wire.</param>
public readonly record struct DeskMove(Seconds At, Source Source, Decibels? Gain, double Value);
