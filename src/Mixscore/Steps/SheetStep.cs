using System.Security.Cryptography;
using Mixscore.Desk;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>The sheet, and its moves as a table for other programs.</summary>
internal static class SheetStep
{
    private static readonly string[] Cautions =
    [
        "Loud sound harms ears, also through headphones: measure at the listening place, and follow local law and a licensed person.",
        ExposureForecast.Headphones,
        "Sites move: the pilot or driver of a site has the last word over its equipment.",
        "What a hand does is right: a source that is taken by hand stays in hand until it is handed back.",
    ];

    internal static IReadOnlyList<string> Write(OpenProject project, IReadOnlyList<FittedSource> fitted, IReadOnlyList<DeskMap> maps, WriteOptions options)
    {
        if (options.Source is { } source && project.Plan.Sources.All(one => one.Name != source))
            throw new InputException(new Fault("MX394", new Place("--source"), $"there is no source \"{source}\"", $"name one of {string.Join(", ", project.Plan.Sources.Select(one => one.Name))}"));
        var input = new SheetInput
        {
            Plan = project.OnScore,
            Performance = project.Performance,
            Rides = fitted,
            // The plan's own day, so that the same plan prints the same sheet.
            Date = DateOnly.FromDateTime(File.GetLastWriteTimeUtc(project.Plan.File)),
            Version = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(project.Plan.File)))[..8],
            Desks = [.. maps.Select(map => Desk(project.Plan, map))],
            Cautions = Cautions,
        };
        var name = Path.Combine(project.Out, options.Source is null ? "sheet" : "sheet-" + options.Source);
        WholeFile.Write(name + ".pdf", SheetBook.Write(input, options.Paper, options.Source));
        WholeFile.Write(name + ".csv", SheetCsv.Write(input, options.Source));
        return [name + ".pdf", name + ".csv"];
    }

    /// <summary>A paper by its name.</summary>
    /// <exception cref="InputException">MX395 there is none of that name.</exception>
    internal static SheetPaper Paper(string name, bool isTurned)
    {
        SheetPaper? paper = name.ToLowerInvariant() switch
        {
            "a4" => SheetPaper.A4,
            "letter" => SheetPaper.Letter,
            _ => null,
        };
        if (paper is not { } found) throw new InputException(new Fault("MX395", new Place("--paper"), $"\"{name}\" is not a paper", "write a4 or letter"));
        return isTurned ? found.Turned : found;
    }

    private static SheetDesk Desk(MixPlan plan, DeskMap map) =>
        new(map.Title, map.To.ToString(), [.. plan.Sources.OrderBy(source => source.Strip).Select(source => new SheetStrip(source.Strip, source.Name, map.Fader.Control.NameOf(source.Strip) ?? "–"))]);
}
