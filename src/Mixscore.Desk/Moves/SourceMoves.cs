using Mixscore.Loudness;
using Mixscore.Planning;

namespace Mixscore.Desk;

/// <summary>What the moves of one source come to.</summary>
/// <param name="Source">The source.</param>
/// <param name="Moves">How often its fader changes, its first setting included.</param>
/// <param name="Bytes">What these take on the wire; for OSC the messages without their bundles.</param>
/// <param name="LeftOut">How many moves the wire had no room for.</param>
/// <param name="Worst">How far the fader ever is from the ride, off counting as the bottom of the fader.</param>
/// <param name="Note">What the map cannot say of the ride, in words; <c>null</c> where it says all.</param>
public sealed record SourceMoves(Source Source, int Moves, int Bytes, int LeftOut, Decibels Worst, string? Note);
