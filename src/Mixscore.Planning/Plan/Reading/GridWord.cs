namespace Mixscore.Planning;

/// <summary><c>grid:</c>, one of <c>beats</c>, <c>halves</c> and <c>bars</c>.</summary>
internal static class GridWord
{
    private static readonly string[] Words = ["beats", "halves", "bars"];

    /// <summary>The grid that a pair names; another where nothing is written or it is wrong.</summary>
    internal static VertexGrid Read(Section section, YamlPair? pair, VertexGrid otherwise, FaultList faults)
    {
        if (section.Text(pair) is not { } text) return otherwise;
        var index = Array.IndexOf(Words, text);
        if (index >= 0) return (VertexGrid)index;
        faults.Add(PlanFault.UnknownWord, pair!.Value.Place, $"vertices cannot stand on \"{text}\"", Nearest.Remedy(text, Words, "write one of"));
        return otherwise;
    }
}
