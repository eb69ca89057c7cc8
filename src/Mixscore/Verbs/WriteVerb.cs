using System.ComponentModel;
using System.Globalization;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>write PLAN --desk MAP</c>: automation for the desk, the sheet, and the click.</summary>
internal sealed class WriteVerb(Terminal terminal) : AsyncCommand<WriteVerb.Settings>
{
    internal sealed class Settings : HallSettings
    {
        [CommandOption("--desk <MAP>")]
        [Description("A desk map (*.desk.yaml); as often as there are desks. Without one no automation is written.")]
        public string[] Desks { get; init; } = [];

        [CommandOption("--only <KINDS>")]
        [Description("Write only these, with commas between: midi, osc, sheet, click (with the call), call.")]
        public string? Only { get; init; }

        [CommandOption("--paper <NAME>")]
        [Description("The sheet's paper: a4 or letter.")]
        [DefaultValue("a4")]
        public string Paper { get; init; } = "a4";

        [CommandOption("--landscape")]
        [Description("Turn the paper.")]
        public bool Landscape { get; init; }

        [CommandOption("--source <NAME>")]
        [Description("A sheet of this source alone.")]
        public string? Source { get; init; }

        [CommandOption("--ltc <RATE>")]
        [Description("Put timecode (LTC) on a second channel of the click: 24, 25, 30 or 30df.")]
        public string? Ltc { get; init; }

        [CommandOption("--ltc-at <LABEL>")]
        [Description("The label at the start of the piece; the count-in carries those before it.")]
        [DefaultValue("01:00:00:00")]
        public string LtcAt { get; init; } = "01:00:00:00";
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        WriteKinds? only = settings.Only is null ? null : WriteKindsText.Read(settings.Only);
        var kinds = only ?? WriteKinds.All;
        var options = new WriteOptions
        {
            Timecode = settings.Ltc is null ? null : TimecodeTrack.Read(settings.Ltc, settings.LtcAt),
            Paper = SheetStep.Paper(settings.Paper, settings.Landscape),
            Source = settings.Source,
        };
        var maps = WriteStep.ReadMaps(settings.Desks, only);
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var rides = maps.Count > 0 || kinds.HasFlag(WriteKinds.Sheet) ? await RidesStep.RunAsync(project, terminal, cancellation) : null;
        // A sheet may list the strips of a desk for which nothing else is written now.
        var listed = maps.Count > 0 || !kinds.HasFlag(WriteKinds.Sheet) ? maps : WriteStep.ReadMaps(settings.Desks, only: null);
        var written = WriteStep.Run(project, rides?.Fitted, maps, listed, kinds, options);
        if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(Path.Combine(project.Out, "write.json"), cancellation));
        else
        {
            foreach (var desk in written.Desks) Show(desk);
            if (written.Sheet.Count > 0) terminal.Say($"The sheet: {string.Join(", ", written.Sheet.Select(OpenProject.Shown))}");
            if (written.Click is { } click) Show(click);
            CallReport.Show(terminal, written.Call, kinds);
        }
        Warnings.Show(terminal, written.Warnings);
        return only == WriteKinds.Call && written.Call is null ? terminal.Fail(ExitCode.Unavailable, "nobody speaks the call", CallReport.Remedy) : ExitCode.Good;
    }

    private void Show(TracksStep.Result tracks)
    {
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"Click: {tracks.Click.Strokes.Count} strokes; the piece begins {tracks.Click.Lead.Value:0.000} s into the file. Written: {string.Join(", ", tracks.Files.Select(OpenProject.Shown))}"));
        foreach (var note in tracks.Notes) terminal.Say(note);
    }

    private void Show(WriteStep.Written desk)
    {
        var table = Tables.Plain("Source", "Strip", "Moves", "Worst error");
        foreach (var source in desk.Moves.Sources)
            table.AddRow(Markup.Escape(source.Source.Name), $"{source.Source.Strip}", $"{source.Moves}{(source.LeftOut > 0 ? $" ({source.LeftOut} left out)" : "")}", string.Create(CultureInfo.InvariantCulture, $"{source.Worst.Value:0.00} dB"));
        terminal.Say(desk.Moves.Map.Title);
        terminal.Out.Write(table);
        foreach (var note in desk.Notes) terminal.Say(note);
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"At most {desk.Moves.PeakBytes} bytes in any second. Written: {string.Join(", ", desk.Files.Select(OpenProject.Shown))}"));
    }
}
