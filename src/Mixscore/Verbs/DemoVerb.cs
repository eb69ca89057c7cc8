using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using Mixscore.Audio;
using Mixscore.Desk;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>demo [FOLDER]</c>: the whole job on our own piece.</summary>
internal sealed class DemoVerb(Terminal terminal) : AsyncCommand<DemoVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "[FOLDER]")]
        [Description("Where the demo is laid out.")]
        [DefaultValue("night-ferry")]
        public string Folder { get; init; } = "night-ferry";
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var folder = settings.Folder;
        terminal.Say("Night Ferry: three ferries, a concert hall on the quay. The stems are synthetic and the figures of this piece invented.");
        DemoProject.LayOut(folder);
        var project = OpenProject.Open(Path.Combine(folder, DemoProject.Plan));
        var watch = Stopwatch.StartNew();
        var made = await WorkProgress.RunAsync(terminal, "making stems", progress => DemoStems.EnsureAsync(project.Plan, project.Performance, project.Timeline, progress, cancellation));
        Told($"{(made.Count > 0 ? $"made {made.Count} stem{(made.Count == 1 ? "" : "s")}" : "the stems are there")}", watch);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        Told(rides.WasFitted ? "measured them and fitted the rides" : "nothing has changed since the rides were fitted", watch);
        var result = await CheckStep.RunAsync(project, rides, terminal, cancellation);
        Told("rendered the mix and checked it", watch);
        var maps = WriteStep.ReadMaps(DemoProject.Maps.Select(map => Path.Combine(folder, map)), only: null);
        var written = WriteStep.Run(project, rides.Fitted, maps, maps, WriteKinds.All, new WriteOptions());
        Told("wrote the automation, the sheet, the click and the call", watch);

        terminal.Out.Write(CheckTable.Of(result));
        CheckTable.Verdict(terminal, result);
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings, .. written.Warnings]);
        CallReport.Show(terminal, written.Call, WriteKinds.All);
        WhereItLies(project, written);
        WhatNext(folder);
        return result.IsGood ? ExitCode.Good : ExitCode.Short;
    }

    private void Told(string what, Stopwatch watch)
    {
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{watch.Elapsed.TotalSeconds,6:0.0} s  {what}"));
        watch.Restart();
    }

    private void WhereItLies(OpenProject project, WriteStep.Result written)
    {
        var table = Tables.Words("File", "");
        table.HideHeaders();
        void Row(string path, string what) => table.AddRow(Markup.Escape(OpenProject.Shown(path)), what);
        Row(CheckStep.ReportPath(project), "the report: open it in a browser");
        Row(CheckStep.MixPath(project), "the mix");
        Row(project.Plan.File, "the plan: sites, sources, marks");
        Row(project.Rides, "the rides");
        foreach (var desk in written.Desks)
            foreach (var file in desk.Files) Row(file, $"for {(desk.Moves.Map.Protocol == DeskProtocol.Osc ? "a desk that speaks OSC" : "a desk that speaks MIDI")}");
        foreach (var file in written.Sheet) Row(file, file.EndsWith(".pdf", StringComparison.Ordinal) ? "the sheet for the desk and the music stand" : "its moves as a table");
        foreach (var file in written.Click?.Files ?? []) Row(file, file.EndsWith(".mid", StringComparison.Ordinal) ? "the click's tempo map" : "the click for the players");
        foreach (var call in written.Call?.Calls ?? []) Row(call.File, call.Site is null ? "the spoken call" : $"the call for {call.Site}");
        terminal.Out.Write(table);
    }

    private void WhatNext(string folder)
    {
        terminal.Say("Try next:");
        terminal.Say($"  mixscore read {folder}         what the score says");
        terminal.Say($"  mixscore rehearse {folder}     the score with its levels, and the stems through the plan");
        terminal.Say($"  change a mark in {Path.Combine(folder, DemoProject.Plan)}, then: mixscore check {folder}");
        terminal.Say($"  mixscore start crossing --score YOURS.musicxml");
        terminal.Say("Loud sound harms ears: set levels in a hall with a meter at the listening place, by local law and with a licensed person.");
    }
}
