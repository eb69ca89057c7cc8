using System.ComponentModel;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;
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
        if (settings.RecordingStart is { } start && (!double.IsFinite(start) || settings.Recording is null))
            throw new InputException(new Fault("MX223", new Place("--recording-start"), settings.Recording is null ? "there is no recording to begin in" : $"{start} is no time", "write --recording FILE --recording-start SECONDS"));
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        var result = await CheckStep.RunAsync(project, rides, terminal, cancellation,
            settings.Recording is { } recording ? new RecordingStep(recording, settings.RecordingStart is { } at ? new Seconds(at) : null) : null);
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
