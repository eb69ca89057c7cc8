using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary><c>dynamics:</c>, such as <c>{ mf: -8, pppp: -32 }</c>: over our own defaults.</summary>
internal static class DynamicsSection
{
    internal static DynamicsTable Read(YamlPair? pair, FaultList faults)
    {
        var ours = DynamicsTable.Ours;
        if (pair is null || !Section.IsMap("the table of dynamics", pair.Value, faults,
            "write a dynamic, a colon and LU on each line, such as \"mf: -8\"", out var map))
            return ours;
        var levels = ours.Names.ToDictionary(name => name, name => ours[name]!.Value, StringComparer.Ordinal);
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            if (!IsDynamic(key.Value))
                faults.Add(PlanFault.UnknownKey, key.Place, $"\"{key.Value}\" is not a dynamic",
                    Nearest.Remedy(key.Value, [.. ours.Names], "write one of"));
            else if (value is not YamlText text)
                faults.Add(PlanFault.WrongKind, value.Place, $"\"{key.Value}\" holds more than a level",
                    "write a number of LU, such as -8");
            else if (Measure.Level.Read(text.Value, out var level) is { } problem)
                faults.Add(problem.Code, text.Value.Length == 0 ? key.Place : text.Place, $"{key.Value}: {problem.Found}", problem.Remedy);
            else levels[key.Value] = Decibels.Of(level);
        }
        return new DynamicsTable(levels);
    }

    /// <summary><c>mp</c>, <c>mf</c>, or one to six letters p or f.</summary>
    private static bool IsDynamic(string name) =>
        name is "mp" or "mf" || (name.Length is > 0 and <= 6 && (name.All(c => c == 'p') || name.All(c => c == 'f')));
}
