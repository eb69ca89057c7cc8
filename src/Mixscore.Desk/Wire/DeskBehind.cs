using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>What waits for room on a MIDI wire.</summary>
/// <param name="Controls">How many controls of strips the desk does not yet have as they should be.</param>
/// <param name="Worst">How far the fader that is furthest from its value is from it; one that was never set counts as the whole of its law.</param>
public readonly record struct DeskBehind(int Controls, Decibels Worst);
