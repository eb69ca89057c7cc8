using System.ComponentModel;
using System.Globalization;
using Mixscore.Desk;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>write PLAN --desk MAP</c>: automation for the desk.</summary>
internal sealed class WriteVerb(Terminal terminal) : AsyncCommand<WriteVerb.Settings>
{
    internal sealed class Settings : PlanSettings
    {
        [CommandOption("--desk <MAP>", isRequired: true)]
        [Description("A desk map (*.desk.yaml); as often as there are desks.")]
        public required string[] Desks { get; init; }

        [CommandOption("--only <KINDS>")]
        [Description("Write only these, with commas between: midi, osc.")]
        public string? Only { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var maps = WriteStep.ReadMaps(settings.Desks, Kinds(settings.Only));
        var project = OpenProject.Open(settings.Plan);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        var written = WriteStep.Run(project, rides.Rides, maps);
        if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(Path.Combine(project.Out, "write.json"), cancellation));
        else foreach (var desk in written.Desks) Show(desk);
        Warnings.Show(terminal, written.Warnings);
        return ExitCode.Good;
    }

    private static HashSet<DeskProtocol>? Kinds(string? only)
    {
        if (only is null) return null;
        var kinds = new HashSet<DeskProtocol>();
        foreach (var word in only.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            kinds.Add(word switch
            {
                "midi" => DeskProtocol.Midi,
                "osc" => DeskProtocol.Osc,
                _ => throw new InputException(new Fault("MX392", new Place("--only"), $"\"{word}\" is not a kind of file", "write midi, osc, or both with a comma between")),
            });
        return kinds;
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
