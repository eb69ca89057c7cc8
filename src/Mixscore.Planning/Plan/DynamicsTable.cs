using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>The LU over the reference that each dynamic stands for.</summary>
/// <remarks>A score gives no figures to its letters: the defaults are our own, to be set by ear.</remarks>
public sealed class DynamicsTable
{
    private readonly Dictionary<string, Decibels> _levels;

    /// <summary>A table from pairs; a later pair replaces an earlier one of the same name.</summary>
    public DynamicsTable(IEnumerable<KeyValuePair<string, Decibels>> levels)
    {
        _levels = new Dictionary<string, Decibels>(StringComparer.Ordinal);
        foreach (var (name, level) in levels) _levels[name] = level;
    }

    /// <summary>Our own defaults, from <c>ppp</c> at −28 LU to <c>fff</c> at +3 LU. No source; to be set by ear.</summary>
    public static DynamicsTable Ours { get; } = new(new Dictionary<string, Decibels>
    {
        ["ppp"] = Decibels.Of(-28),
        ["pp"] = Decibels.Of(-24),
        ["p"] = Decibels.Of(-18),
        ["mp"] = Decibels.Of(-12),
        ["mf"] = Decibels.Of(-8),
        ["f"] = Decibels.Of(-4),
        ["ff"] = Decibels.Of(0),
        ["fff"] = Decibels.Of(3),
    });

    /// <summary>The names, loudest last.</summary>
    public IEnumerable<string> Names => _levels.OrderBy(pair => pair.Value.Value).Select(pair => pair.Key);

    /// <summary>The level that a dynamic stands for, or <c>null</c> where the table has none of that name.</summary>
    public Decibels? this[string name] => _levels.TryGetValue(name, out var level) ? level : null;
}
