using System.Globalization;
using Mixscore.Audio;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>measure PLAN</c>: what every stem is like.</summary>
internal sealed class MeasureVerb(Terminal terminal) : AsyncCommand<PlanSettings>
{
    public override async Task<int> ExecuteAsync(CommandContext context, PlanSettings settings, CancellationToken cancellation)
    {
        var project = OpenProject.Open(settings.Plan);
        var result = await MeasureStep.RunAsync(project, terminal, cancellation);
        if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(project.Measures, cancellation));
        else
        {
            terminal.Out.Write(Table(result.Measured));
            terminal.Say($"Bar by bar in {OpenProject.Shown(project.Measures)}. Next: mixscore fit {settings.Plan}");
        }
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. result.Stems.Warnings]);
        return ExitCode.Good;
    }

    private static Table Table(IEnumerable<MeasuredStem> measured)
    {
        var table = Tables.Plain("Source", "Integrated", "Range", "True peak", "Noise floor", "Plays", "Dropouts");
        foreach (var (stem, figures, _) in measured)
            table.AddRow(
                Markup.Escape(figures.Source),
                Tables.Lufs(figures.Integrated),
                Tables.Unit(figures.Range, "LU"),
                Tables.Unit(figures.TruePeak, "dBTP"),
                Tables.Lufs(figures.NoiseFloor),
                string.Create(CultureInfo.InvariantCulture, $"{figures.Active.Sum(stretch => stretch.Length.Value) / Math.Max(0.001, stem.File.Duration.Value):0 %}"),
                figures.Drops.Count == 0 ? Tables.None : string.Join(", ", figures.Drops.Select(drop => Tables.Minutes(drop.From))));
        return table;
    }
}
