using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One written pin: a gain that the ride must have at a position, or a straight stretch of it over a range.</summary>
/// <param name="From">Where it stands or begins.</param>
/// <param name="To">Where a range ends; <c>null</c> for one vertex.</param>
/// <param name="Start">The fader's gain at its beginning.</param>
/// <param name="End">The fader's gain at its end; equal to the start for one vertex.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record WrittenPin(Position From, Position? To, Decibels Start, Decibels End, Place Place);

/// <summary>The pins of one source, in the order of the file.</summary>
/// <param name="Source">Its name.</param>
/// <param name="Pins">Its pins.</param>
public sealed record SourcePins(string Source, IReadOnlyList<WrittenPin> Pins);
