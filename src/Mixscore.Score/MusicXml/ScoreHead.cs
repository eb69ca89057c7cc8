namespace Mixscore.Score;

/// <summary>What stands before the music: titles and the names of parts.</summary>
internal sealed class ScoreHead
{
    private readonly Dictionary<string, string> _names = [];
    private readonly Dictionary<string, (string Name, List<string> Parts)> _openGroups = [];
    private readonly List<(string Name, List<string> Parts)> _groups = [];
    private string _work = "";
    private string _movement = "";

    /// <summary>The parts that the list names, in its order.</summary>
    internal List<string> Listed { get; } = [];

    /// <summary>The groups that have parts, in the order in which they begin.</summary>
    internal IReadOnlyList<PartGroup> Groups => [.. _groups.Where(group => group.Parts.Count > 0).Select(group => new PartGroup(group.Name, group.Parts))];

    internal string Title => (_work, _movement) switch
    {
        ("", _) => _movement,
        (_, "") => _work,
        _ when _movement.Contains(_work, StringComparison.OrdinalIgnoreCase) => _movement,
        _ => $"{_work}: {_movement}",
    };

    internal void Take(Element element)
    {
        switch (element.Name)
        {
            case "work":
                _work = element.TextOf("work-title") ?? "";
                break;
            case "movement-title":
                _movement = element.Text;
                break;
            case "part-list":
                foreach (var child in element.Children)
                    if (child.Name == "part-group") TakeGroup(child);
                    else if (child.Name == "score-part" && child["id"] is { } id && _names.TryAdd(id, child.TextOf("part-name") ?? "")) TakePart(id);
                break;
        }
    }

    private void TakePart(string id)
    {
        Listed.Add(id);
        foreach (var (_, parts) in _openGroups.Values) parts.Add(id);
    }

    /// <summary>Groups may overlap; their numbers pair the start with the stop.</summary>
    private void TakeGroup(Element group)
    {
        var number = group["number"] ?? "1";
        _openGroups.Remove(number);
        if (group["type"] != "start") return;
        var name = group.TextOf("group-name") ?? string.Concat(group.Child("group-name-display")?.All("display-text").Select(text => text.Text) ?? []);
        var opened = (name.ReplaceLineEndings(" "), new List<string>());
        _openGroups[number] = opened;
        _groups.Add(opened);
    }

    internal string NameOf(string id) => _names.GetValueOrDefault(id, "");
}
