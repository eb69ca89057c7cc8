namespace Mixscore.Planning;

/// <summary>Which sources must be known before which: those that are leaned on come first.</summary>
internal static class LeanOrder
{
    /// <summary>The names so ordered that every one comes after those that it leans on; otherwise as given.</summary>
    /// <param name="names">All names.</param>
    /// <param name="leansOn">The names that one leans on; names that are not among <paramref name="names"/> are passed over.</param>
    /// <param name="circles">Each circle that was met, as names in the order of leaning.</param>
    internal static IReadOnlyList<string> Of(IReadOnlyList<string> names, Func<string, IReadOnlyList<string>> leansOn,
        out IReadOnlyList<IReadOnlyList<string>> circles)
    {
        var (ordered, found, path) = (new List<string>(), new List<IReadOnlyList<string>>(), new List<string>());
        var known = names.ToHashSet(StringComparer.Ordinal);
        var done = new HashSet<string>(StringComparer.Ordinal);
        foreach (var name in names) Visit(name);
        circles = found;
        return ordered;

        void Visit(string name)
        {
            if (!known.Contains(name) || done.Contains(name)) return;
            var at = path.IndexOf(name);
            if (at >= 0)
            {
                found.Add(path[at..]);
                return;
            }
            path.Add(name);
            foreach (var other in leansOn(name)) Visit(other);
            path.RemoveAt(path.Count - 1);
            if (done.Add(name)) ordered.Add(name);
        }
    }

    /// <summary>A circle in words: <c>a leans on b, b leans on a</c>.</summary>
    internal static string Spoken(IReadOnlyList<string> circle) => circle.Count == 1
        ? $"{circle[0]} leans on itself"
        : string.Join(", ", circle.Select((name, i) => $"{name} leans on {circle[(i + 1) % circle.Count]}"));
}
