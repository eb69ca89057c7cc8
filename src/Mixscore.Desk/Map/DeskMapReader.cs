using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>Reads desk maps (<c>*.desk.yaml</c>): one map a YAML document. All is checked that can be said without a plan.</summary>
public static class DeskMapReader
{
    /// <summary>Reads a file of desk maps.</summary>
    /// <param name="path">The file.</param>
    /// <returns>At least one, in the order of the file.</returns>
    /// <exception cref="InputException">Something is wrong with it; every fault is given, in the order of the lines.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be read.</exception>
    public static IReadOnlyList<DeskMap> Read(string path) => Parse(PlanReader.ReadText(path), path);

    /// <summary>Reads the text of desk maps.</summary>
    /// <param name="text">The text.</param>
    /// <param name="path">The file that it is from; faults name it as given.</param>
    /// <returns>At least one, in order.</returns>
    /// <exception cref="InputException">Something is wrong with it; every fault is given, in the order of the lines.</exception>
    public static IReadOnlyList<DeskMap> Parse(string text, string path)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        var faults = new FaultList();
        var roots = YamlTree.ReadAll(text, path, faults);
        IReadOnlyList<DeskMap?> maps = [.. roots.Select(root => MapReading.Read(root, faults))];
        faults.ThrowIfAny();
        return [.. maps.Select(map => map ?? throw new InvalidOperationException("a map that could not be read has a fault"))];
    }
}
