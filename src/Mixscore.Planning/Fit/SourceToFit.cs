using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One source with all that the fit needs to know of it.</summary>
/// <param name="Name">Such as <c>north.voice</c>.</param>
/// <param name="Within">How far it may stray from its level; above 0.</param>
/// <param name="Levels">What should be heard of it.</param>
/// <param name="Loudness">What its stem holds.</param>
/// <param name="Delay">Its site's link delay: its sound for a place of the score stands so much later in the stem.</param>
public sealed record SourceToFit(string Name, Decibels Within, LevelLine Levels, LoudnessTrace Loudness, Seconds Delay)
{
    /// <summary>Where its ride is given, in order.</summary>
    public IReadOnlyList<Pin> Pins { get; init; } = [];
}
