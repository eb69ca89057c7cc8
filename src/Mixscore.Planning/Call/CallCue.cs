using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Something to be said at a place. A bar's word stands before its bar line; a word of the count-in stands on its beat.</summary>
/// <param name="Bar">The bar that is called, by its place in the played order; 0 and below in the count-in.</param>
/// <param name="From">The earliest that it may begin; seconds from the start of the piece.</param>
/// <param name="To">The bar line or beat before which it must have ended.</param>
/// <param name="IsOnBeat">Whether it begins at <paramref name="From"/>; otherwise it ends as late as it may.</param>
/// <param name="Choices">What to say, the best first: the first that there is time for is said. Each is one or more parts.</param>
public sealed record CallCue(int Bar, Seconds From, Seconds To, bool IsOnBeat, IReadOnlyList<IReadOnlyList<CallPart>> Choices);
