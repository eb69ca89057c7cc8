using Mixscore.Desk;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>Automation files for desks, and what goes on paper and into ears.</summary>
internal static class WriteStep
{
    /// <summary>What was written for one desk.</summary>
    internal sealed record Written(DeskMoves Moves, IReadOnlyList<string> Files, IReadOnlyList<string> Notes);

    internal sealed record Result(IReadOnlyList<Written> Desks, TracksStep.Result? Click, TracksStep.CallResult? Call, IReadOnlyList<string> Sheet, IReadOnlyList<Fault> Warnings);

    /// <summary>Reads every document of the maps. Two desks of one protocol would write the same files, and are refused.</summary>
    /// <param name="paths">The maps.</param>
    /// <param name="only">What is to be written; <c>null</c> for all that can be.</param>
    internal static IReadOnlyList<DeskMap> ReadMaps(IEnumerable<string> paths, WriteKinds? only)
    {
        var maps = paths.SelectMany(DeskMapReader.Read).Where(map => only is null || only.Value.HasFlag(Kind(map.Protocol))).ToArray();
        foreach (var same in maps.GroupBy(map => map.Protocol).Where(group => group.Count() > 1))
            throw new InputException(new Fault("MX390", same.ElementAt(1).Place, $"two desks speak {Name(same.Key)}, and would write the same files", "give one of them, or pick with --only"));
        foreach (var missing in Enum.GetValues<DeskProtocol>().Where(protocol => only is { } kinds && kinds.HasFlag(Kind(protocol)) && maps.All(map => map.Protocol != protocol)))
            throw new InputException(new Fault("MX391", new Place("--only"), $"no desk map speaks {Name(missing)}", "name one with --desk"));
        return maps;
    }

    /// <summary>Writes what is asked for.</summary>
    /// <param name="project">The project.</param>
    /// <param name="fitted">The rides; <c>null</c> where nothing that needs them is asked for.</param>
    /// <param name="maps">The desks.</param>
    /// <param name="listed">The desks whose strips the sheet lists.</param>
    /// <param name="kinds">What to write.</param>
    /// <param name="options">How.</param>
    internal static Result Run(OpenProject project, IReadOnlyList<FittedSource>? fitted, IReadOnlyList<DeskMap> maps, IReadOnlyList<DeskMap> listed, WriteKinds kinds, WriteOptions options)
    {
        var faults = maps.SelectMany(map => DeskMapCheck.Of(project.Plan, map)).ToArray();
        if (faults.Any(fault => fault.Severity == Severity.Error)) throw new InputException(faults);

        Written[] desks = fitted is null ? [] : [.. maps.Select(map => Write(project, [.. fitted.Select(source => source.Ride)], map))];
        var sheet = fitted is not null && kinds.HasFlag(WriteKinds.Sheet) ? SheetStep.Write(project, fitted, listed, options) : [];
        var click = kinds.HasFlag(WriteKinds.Click) ? TracksStep.Click(project, options.Timecode) : null;
        var call = kinds.HasFlag(WriteKinds.Call) ? TracksStep.Call(project) : null;
        var summary = new
        {
            leadSeconds = Math.Round(ClickTimes.Of(project.OnScore).Lead.Value, 9),
            files = desks.SelectMany(desk => desk.Files).Concat(sheet).Concat(click?.Files ?? []).Concat(call?.Calls.Select(one => one.File) ?? []).Select(file => Path.GetFileName(file)!),
            desks = desks.Select(desk => new
            {
                title = desk.Moves.Map.Title,
                protocol = Name(desk.Moves.Map.Protocol),
                peakBytesPerSecond = desk.Moves.PeakBytes,
                sources = desk.Moves.Sources.Select(source => new { source = source.Source.Name, moves = source.Moves, bytes = source.Bytes, leftOut = source.LeftOut, worst = JsonOut.Rounded(source.Worst.Value) }),
                notes = desk.Notes,
            }),
            calls = (call?.Calls ?? []).Select(one => new
            {
                file = Path.GetFileName(one.File),
                site = one.Site,
                words = one.Track.Words.Select(word => new { bar = word.Cue.Bar, text = word.Text, fromSeconds = Math.Round(word.From.Value, 6), toSeconds = Math.Round(word.To.Value, 6), beforeSeconds = Math.Round(word.Cue.To.Value, 6) }),
                leftOut = one.Track.LeftOut.Select(cue => cue.Bar),
                missing = one.Track.Missing,
            }),
        };
        WholeFile.Write(Path.Combine(project.Out, "write.json"), JsonOut.Text(summary) + "\n");
        return new Result(desks, click, call, sheet, faults);
    }

    internal static string Name(DeskProtocol protocol) => protocol == DeskProtocol.Osc ? "osc" : "midi";

    private static WriteKinds Kind(DeskProtocol protocol) => protocol == DeskProtocol.Osc ? WriteKinds.Osc : WriteKinds.Midi;

    private static Written Write(OpenProject project, IReadOnlyList<Ride> rides, DeskMap map)
    {
        var moves = DeskMoves.Of(project.Timeline, project.Plan, rides, map);
        var notes = moves.Sources.Select(source => source.Note).OfType<string>();
        if (map.Protocol == DeskProtocol.Midi)
        {
            var file = MidiAutomation.Of(moves, project.Timeline, project.Plan.Title);
            return new Written(moves, Save(project, ("automation.mid", file.Bytes.ToArray())), [.. notes, .. file.Notes]);
        }
        return new Written(moves, Save(project, ("automation.osc", OscAutomation.Stream(moves)), ("automation.osc.txt", System.Text.Encoding.UTF8.GetBytes(OscAutomation.Text(moves)))), [.. notes]);
    }

    private static string[] Save(OpenProject project, params (string Name, byte[] Bytes)[] files)
    {
        foreach (var (name, bytes) in files) WholeFile.Write(Path.Combine(project.Out, name), bytes);
        return [.. files.Select(file => Path.Combine(project.Out, file.Name))];
    }
}
