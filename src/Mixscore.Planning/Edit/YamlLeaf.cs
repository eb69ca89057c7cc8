namespace Mixscore.Planning;

/// <summary>A scalar that is not empty, and the keys that lead to it.</summary>
internal readonly record struct YamlLeaf(string Path, string Value)
{
    /// <summary>A path as one text.</summary>
    internal static string Key(params IEnumerable<string> path) => string.Join('\n', path);

    /// <summary>All leaves in the order of the file.</summary>
    internal static IReadOnlyList<YamlLeaf> All(YamlNode root)
    {
        var leaves = new List<YamlLeaf>();
        Collect(root, [], leaves);
        return leaves;
    }

    private static void Collect(YamlNode node, List<string> path, List<YamlLeaf> leaves)
    {
        if (node is YamlText { Value.Length: > 0 } text) leaves.Add(new YamlLeaf(Key(path), text.Value));
        var inside = node switch
        {
            YamlMap map => map.Pairs.Select(pair => (pair.Key.Value, pair.Value)),
            YamlList list => list.Items.Select((item, i) => ($"[{i}]", item)),
            _ => [],
        };
        foreach (var (key, value) in inside)
        {
            path.Add(key);
            Collect(value, path, leaves);
            path.RemoveAt(path.Count - 1);
        }
    }
}
