namespace Mixscore.Planning;

/// <summary>Sources in an order in which each comes after those that it leans on; otherwise as they were given.</summary>
internal static class LeaningOrder
{
    public static IReadOnlyList<SourceToFit> Of(IReadOnlyList<SourceToFit> sources)
    {
        var byName = new Dictionary<string, SourceToFit>(StringComparer.Ordinal);
        foreach (var source in sources)
            if (!byName.TryAdd(source.Name, source)) throw new ArgumentException($"two sources are named {source.Name}", nameof(sources));
        var (ordered, open) = (new List<SourceToFit>(sources.Count), new HashSet<string>(StringComparer.Ordinal));
        var done = new HashSet<string>(StringComparer.Ordinal);
        foreach (var source in sources) Visit(source);
        return ordered;

        void Visit(SourceToFit source)
        {
            if (done.Contains(source.Name)) return;
            if (!open.Add(source.Name)) throw new ArgumentException($"{source.Name} leans on itself by way of others", nameof(sources));
            foreach (var name in source.Levels.LeansOn)
                Visit(byName.TryGetValue(name, out var other)
                    ? other
                    : throw new ArgumentException($"{source.Name} leans on {name}, which is not among the sources", nameof(sources)));
            done.Add(source.Name);
            ordered.Add(source);
        }
    }

    /// <summary>The same in groups: each source leans only on those of groups before its own.</summary>
    public static IReadOnlyList<IReadOnlyList<SourceToFit>> Waves(IReadOnlyList<SourceToFit> sources)
    {
        var wave = new Dictionary<string, int>(StringComparer.Ordinal);
        var ordered = Of(sources);
        foreach (var source in ordered) wave[source.Name] = source.Levels.LeansOn.Select(name => wave[name] + 1).DefaultIfEmpty(0).Max();
        return [.. ordered.GroupBy(source => wave[source.Name]).OrderBy(group => group.Key).Select(group => group.ToList())];
    }
}
