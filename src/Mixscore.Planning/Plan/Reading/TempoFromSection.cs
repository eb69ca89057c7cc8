using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary><c>tempo-from:</c>, such as <c>click.mid</c> or <c>{ file: click.mid, begin: 3 }</c>.</summary>
internal static class TempoFromSection
{
    private const string Example = "\"tempo-from: click.mid\", or \"tempo-from: { file: click.mid, begin: 3 }\"";

    internal static WrittenTempoFile? Read(YamlPair? pair, FaultList faults)
    {
        if (pair is null) return null;
        if (pair.Value is YamlText { Value.Length: > 0 } text)
            return new WrittenTempoFile(text.Value.Trim(), null, text.Place, text.Place);
        if (Section.Open("the file that the tempo is from", pair.Value, pair.Key.Place, faults, "file", "begin") is not { } section) return null;
        var file = section.Text(section.Need("file", "name the file: " + Example));
        var begin = section["begin"];
        if (section.Text(begin) is not { } position) return file is null ? null : new WrittenTempoFile(file, null, pair.Value.Place, pair.Value.Place);
        if (Position.TryParse(position, out var read, out var problem)) return file is null ? null : new WrittenTempoFile(file, read, pair.Value.Place, begin!.Value.Place);
        faults.Add(PlanFault.NotAPosition, begin!.Value.Place, $"\"{position}\" is not a position: {problem}", "write where in the file the score begins, such as 3 behind two bars of count-in");
        return null;
    }
}
