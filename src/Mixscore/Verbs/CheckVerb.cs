using System.ComponentModel;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>check PLAN</c>: the mix against the marks.</summary>
internal sealed class CheckVerb(Terminal terminal) : AsyncCommand<CheckVerb.Settings>
{
    internal sealed class Settings : HallSettings
    {
        [CommandOption("--recording <FILE>")]
        [Description("A recording of the mix in the hall (WAV): its loudness bar by bar beside what the marks ask in sum. It decides nothing, since it cannot tell one source from another.")]
        public string? Recording { get; init; }

        [CommandOption("--recording-start <SECONDS>")]
        [Description("When the piece begins in the recording; without it that is looked for.")]
        public double? RecordingStart { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var recording = RecordingStep.Of(settings.Recording, settings.RecordingStart);
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        var result = await CheckStep.RunAsync(project, rides, terminal, cancellation, recording);
        if (settings.Json) await terminal.Plain.WriteAsync(CheckFile.Write(result));
        else
        {
            terminal.Out.Write(CheckTable.Of(result));
            CheckTable.Verdict(terminal, result);
            terminal.Say($"The report is {OpenProject.Shown(CheckStep.ReportPath(project))}, the mix {OpenProject.Shown(CheckStep.MixPath(project))}.");
        }
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings]);
        return result.IsGood ? ExitCode.Good : ExitCode.Short;
    }
}
