namespace Mixscore.Score;

/// <summary>What stands before the music: titles and the names of parts.</summary>
internal sealed class ScoreHead
{
    private readonly Dictionary<string, string> _names = [];
    private string _work = "";
    private string _movement = "";

    /// <summary>The parts that the list names, in its order.</summary>
    internal List<string> Listed { get; } = [];

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
                foreach (var part in element.All("score-part"))
                    if (part["id"] is { } id && _names.TryAdd(id, part.TextOf("part-name") ?? "")) Listed.Add(id);
                break;
        }
    }

    internal string NameOf(string id) => _names.GetValueOrDefault(id, "");
}
