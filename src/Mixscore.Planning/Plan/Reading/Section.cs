using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A mapping of the plan with a fixed set of keys.</summary>
internal sealed class Section
{
    private readonly YamlMap? _map;
    private readonly Place _place;
    private readonly string _what;
    private readonly FaultList _faults;

    private Section(string what, YamlMap? map, Place place, FaultList faults) =>
        (_what, _map, _place, _faults) = (what, map, place, faults);

    /// <summary>Opens a value as a mapping with these keys, and reports all others.</summary>
    /// <param name="what">With its article: "a source".</param>
    /// <param name="value">The value; nothing written counts as no keys.</param>
    /// <param name="place">Where a missing key is reported.</param>
    /// <param name="faults">Where faults go.</param>
    /// <param name="keys">The keys that it may have.</param>
    /// <returns><c>null</c> where it is not a mapping.</returns>
    internal static Section? Open(string what, YamlNode value, Place place, FaultList faults, params string[] keys)
    {
        if (!IsMap(what, value, faults, $"write its keys ({string.Join(", ", keys)}) under it", out var map)) return null;
        foreach (var pair in map?.Pairs ?? [])
            if (!keys.Contains(pair.Key.Value))
                faults.Add(PlanFault.UnknownKey, pair.Key.Place, $"\"{pair.Key.Value}\" is not a key of {what}",
                    Nearest.Remedy(pair.Key.Value, keys, "its keys are"));
        return new Section(what, map, place, faults);
    }

    /// <summary>Whether a value is a mapping, or nothing is written (then the mapping is <c>null</c>).</summary>
    internal static bool IsMap(string what, YamlNode value, FaultList faults, string remedy, out YamlMap? map)
    {
        map = value as YamlMap;
        if (map is not null || value is YamlText { IsPlain: true, Value.Length: 0 }) return true;
        var found = value is YamlList ? "a list" : $"\"{((YamlText)value).Value}\"";
        faults.Add(PlanFault.WrongKind, value.Place, $"{found} stands where {what} belongs", remedy);
        return false;
    }

    /// <summary>A pair, or <c>null</c> where the key is not there.</summary>
    internal YamlPair? this[string key] => _map?[key];

    /// <summary>A pair that must be there.</summary>
    internal YamlPair? Need(string key, string remedy)
    {
        if (this[key] is { } pair) return pair;
        _faults.Add(PlanFault.MissingKey, _place, $"{_what} needs \"{key}\"", remedy);
        return null;
    }

    /// <summary>A text that is not empty, or <c>null</c> with a fault where something else is written, or without one
    /// where nothing is.</summary>
    internal string? Text(YamlPair? pair)
    {
        if (pair is null) return null;
        if (pair.Value is YamlText text)
        {
            if (text.Value.Trim().Length > 0) return text.Value.Trim();
            _faults.Add(PlanFault.NotAText, pair.IsEmpty ? pair.Key.Place : text.Place, $"\"{pair.Key.Value}\" is empty",
                "write it after the colon, or leave the key out");
            return null;
        }
        _faults.Add(PlanFault.WrongKind, pair.Value.Place, $"\"{pair.Key.Value}\" holds a {(pair.Value is YamlList ? "list" : "mapping")}",
            "write one value after the colon");
        return null;
    }

    /// <summary>A quantity, or what holds where none is written or it is wrong.</summary>
    internal double Quantity(string key, Measure measure, double otherwise)
    {
        var pair = this[key];
        if (Text(pair) is not { } text) return otherwise;
        if (measure.Read(text, out var value) is not { } problem) return value;
        Add(problem, pair!.Value.Place);
        return otherwise;
    }

    internal void Add(Problem problem, Place place) => _faults.Add(problem.Code, place, problem.Found, problem.Remedy);
}
