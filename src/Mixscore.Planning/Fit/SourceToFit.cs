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

    /// <summary>Where the vertices of its ride may stand.</summary>
    public VertexGrid Grid { get; init; }

    /// <summary>Where its band is drawn in for the sake of a source that must be clear.</summary>
    internal IReadOnlyList<DrawnIn> DrawnIn { get; init; } = [];
}

/// <summary>A stretch over which a band is drawn in.</summary>
/// <param name="From">Where it begins, in quarters.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Above">The part of the band's width that is taken away above, from 0 to 1.</param>
/// <param name="Below">The part that is taken away below.</param>
internal readonly record struct DrawnIn(double From, double To, double Above, double Below)
{
    public BandSample Of(BandSample sample)
    {
        if (sample.At < From || sample.At > To) return sample;
        var width = sample.High - sample.Low;
        var (low, high) = (sample.Low + Below * width, sample.High - Above * width);
        return new BandSample(sample.At, low, high, Math.Clamp(sample.Middle + (Below - Above) * width / 2, low, high));
    }
}
