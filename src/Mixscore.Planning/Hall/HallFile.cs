using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// What one hall asks of every piece that is played in it, kept apart from the pieces: <c>halls/NAME.yaml</c> beside the plan, with
/// <c>offsets:</c>, so many dB a source by which all its levels count higher there.
/// </summary>
public static class HallFile
{
    /// <summary>Where a hall's file lies.</summary>
    public static string PathOf(string projectFolder, string hall) => Path.Combine(projectFolder, "halls", hall + ".yaml");

    /// <summary>The plan with what its hall asks; as it is where it names none, or one of which nothing is known yet.</summary>
    /// <exception cref="InputException">The file cannot be used; every fault is given.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static MixPlan Applied(MixPlan plan)
    {
        if (plan.Hall.Name is not { } hall || PathOf(plan.Folder, hall) is var path && !File.Exists(path)) return plan;
        var offsets = Read(PlanReader.ReadText(path), path, [.. plan.Sources.Select(source => source.Name)]);
        return plan with { Sources = [.. plan.Sources.Select(source => source with { HallOffset = offsets.GetValueOrDefault(source.Name) })] };
    }

    /// <summary>Reads the offsets of a hall's text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="path">Its file, which faults name.</param>
    /// <param name="sources">The plan's sources. A hall may know others: it is for every piece.</param>
    /// <exception cref="InputException">It cannot be used; every fault is given.</exception>
    internal static IReadOnlyDictionary<string, Decibels> Read(string text, string path, IReadOnlyCollection<string> sources)
    {
        var (faults, offsets) = (new FaultList(), new Dictionary<string, Decibels>(StringComparer.Ordinal));
        if (YamlTree.Read(text, path, faults) is { } root && Section.Open("a hall", root, root.Place, faults, "title", "offsets") is { } hall
            && hall["offsets"] is { } pair && Section.IsMap("the offsets", pair.Value, faults, "write a source, a colon and dB, such as \"north.voice: +2 dB\"", out var map))
            foreach (var (key, value) in map?.Pairs ?? [])
            {
                if (value is not YamlText one) faults.Add(PlanFault.WrongKind, value.Place, $"\"{key.Value}\" holds more than an offset", "write one, such as \"+2 dB\"");
                else if (Measure.Offset.Read(one.Value, out var by) is { } wrong) faults.Add(wrong.Code, one.Place, wrong.Found, wrong.Remedy);
                else if (sources.Contains(key.Value)) offsets[key.Value] = Decibels.Of(by);
            }
        faults.ThrowIfAny();
        return offsets;
    }
}
