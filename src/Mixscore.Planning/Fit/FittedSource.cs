using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A source's ride, and where it cannot keep its level.</summary>
/// <param name="Ride">The ride.</param>
/// <param name="Widened">The stretches over which the level had to be widened, in order; empty where none had.</param>
public sealed record FittedSource(Ride Ride, IReadOnlyList<WidenedStretch> Widened)
{
    /// <summary>The source's name.</summary>
    public string Source => Ride.Source;
}

/// <summary>A stretch over which nothing obeys, so that the level was widened by the least that a ride needs.</summary>
/// <param name="From">The beat at or before it.</param>
/// <param name="To">The beat at or after it, later than <paramref name="From"/>.</param>
/// <param name="By">By how much at most, beyond the source's own <c>within</c>; above 0.</param>
/// <param name="Because">Why.</param>
/// <param name="Text">Where and why, as one would say it, such as <c>bars 33–34: north.voice arrives 9 dB too quiet for a fader that tops at +10</c>.</param>
public sealed record WidenedStretch(Quarters From, Quarters To, Decibels By, Because Because, string Text);
