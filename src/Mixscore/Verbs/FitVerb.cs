using System.Globalization;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>fit PLAN</c>: the rides.</summary>
internal sealed class FitVerb(Terminal terminal) : AsyncCommand<PlanSettings>
{
    public override async Task<int> ExecuteAsync(CommandContext context, PlanSettings settings, CancellationToken cancellation)
    {
        var project = OpenProject.Open(settings.Plan);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation, mustFit: true);
        if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(project.Rides, cancellation));
        else Show(project, rides, settings.Plan);
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings]);
        return ExitCode.Good;
    }

    private void Show(OpenProject project, RidesStep.Result rides, string plan)
    {
        var table = Tables.Plain("Source", "Vertices", "Lowest", "Highest", "Widened");
        foreach (var source in rides.Fitted)
        {
            var gains = source.Ride.Vertices.Where(vertex => vertex.Gain is not null).Select(vertex => vertex.Gain!.Value.Value).DefaultIfEmpty().ToArray();
            table.AddRow(Markup.Escape(source.Source), $"{source.Ride.Vertices.Count}", Gain(gains.Min()), Gain(gains.Max()), source.Widened.Count == 0 ? Tables.None : $"{source.Widened.Count}");
        }
        terminal.Out.Write(table);
        foreach (var stretch in rides.Fitted.SelectMany(source => source.Widened)) terminal.Say(stretch.Text);
        terminal.Say($"The rides are in {OpenProject.Shown(project.Rides)}. Next: mixscore check {plan}");
    }

    private static string Gain(double value) => string.Create(CultureInfo.InvariantCulture, $"{value:+0.0;-0.0;0.0} dB");
}
