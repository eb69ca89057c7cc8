using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>The sources whose rides are known, as those that lean on them hear them.</summary>
internal sealed class HeardSources
{
    private readonly Dictionary<string, HeardSource> _byName = new(StringComparer.Ordinal);

    public void Add(SourceToFit source, ScoreTrace trace, Ride ride) => _byName.Add(source.Name, new HeardSource(source, trace, ride, Together));

    /// <summary>How loud sources are heard together at a place, in LU over the reference; <c>null</c> for not at all.</summary>
    public double? Together(IReadOnlyList<string> names, double quarters)
    {
        var levels = new List<Decibels>(names.Count);
        foreach (var name in names)
            if (_byName[name].At(quarters) is { } level) levels.Add(Decibels.Of(level));
        return Decibels.PowerSum(levels)?.Value;
    }
}
