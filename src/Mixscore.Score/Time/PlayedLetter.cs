namespace Mixscore.Score;

/// <summary>A rehearsal letter (or number, or word) where it is first played.</summary>
/// <param name="Name">As printed, such as <c>C</c>.</param>
/// <param name="Bar">The place in the played order of the bar that it stands over, from 1.</param>
public readonly record struct PlayedLetter(string Name, int Bar);
