using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>check PLAN</c>: the mix against the marks.</summary>
internal sealed class CheckVerb(Terminal terminal) : AsyncCommand<HallSettings>
{
    public override async Task<int> ExecuteAsync(CommandContext context, HallSettings settings, CancellationToken cancellation)
    {
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        var result = await CheckStep.RunAsync(project, rides, terminal, cancellation);
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
