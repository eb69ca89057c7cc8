using System.ComponentModel;
using System.Globalization;
using Mixscore.Audio;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>measure PLAN</c>: what every stem is like.</summary>
internal sealed class MeasureVerb(Terminal terminal) : AsyncCommand<MeasureVerb.Settings>
{
    internal sealed class Settings : PlanSettings
    {
        [CommandOption("--click")]
        [Description("Look for the click on every channel of the stems, and say where the piece begins in each.")]
        public bool Click { get; init; }

        [CommandOption("--line-up <SOURCE>")]
        [Description("Say where the piece begins in a stem without a click, by a bar (--bar, --at) or an earlier take (--take).")]
        public string? LineUp { get; init; }

        [CommandOption("--bar <POSITION>")]
        [Description("A bar that you hear in the stem of --line-up.")]
        public string? Bar { get; init; }

        [CommandOption("--at <SECONDS>")]
        [Description("When you hear it, in seconds of the stem.")]
        public double? At { get; init; }

        [CommandOption("--take <FILE>")]
        [Description("An earlier take of the same music that is lined up already.")]
        public string? Take { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var project = settings.Click || settings.LineUp is not null ? OpenProject.Open(settings.Plan) : OpenProject.OpenToMeasure(settings.Plan);
        if (settings.Click) return LineUpReport.Clicks(terminal, await WorkProgress.RunAsync(terminal, "looking for the click", _ => LineUpStep.Clicks(project, cancellation)), project, settings.Json);
        if (settings.LineUp is { } source)
            return LineUpReport.OneStem(terminal, source, LineUpStep.LineUp(project, source, settings.Bar, settings.At is { } at ? new Seconds(at) : null, settings.Take), settings.Json);
        var result = await MeasureStep.RunAsync(project, terminal, cancellation);
        if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(project.Measures, cancellation));
        else
        {
            terminal.Out.Write(Table(result.Measured));
            terminal.Say($"Bar by bar in {OpenProject.Shown(project.Measures)}. Next: mixscore fit {settings.Plan}");
        }
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. result.Stems.Warnings, .. StemMeasure.Warnings(result.Measured)]);
        return ExitCode.Good;
    }

    private static Table Table(IEnumerable<MeasuredStem> measured)
    {
        const int Most = 5;
        var table = Tables.Plain("Source", "Integrated", "Range", "True peak", "Noise floor", "Plays", "Dropouts", "Noise bursts");
        foreach (var (stem, figures, _) in measured)
            table.AddRow(
                Markup.Escape(figures.Source),
                Tables.Lufs(figures.Integrated),
                Tables.Unit(figures.Range, "LU"),
                Tables.Unit(figures.TruePeak, "dBTP"),
                Tables.Lufs(figures.NoiseFloor),
                string.Create(CultureInfo.InvariantCulture, $"{figures.Active.Sum(stretch => stretch.Length.Value) / Math.Max(0.001, stem.File.Duration.Value):0 %}"),
                Times(figures.Drops),
                Times(figures.Bursts));
        return table;

        // A link that fails for good would fill the screen; the file has them all.
        static string Times(IReadOnlyList<Stretch> stretches) => stretches.Count == 0 ? Tables.None
            : string.Join(", ", stretches.Take(Most).Select(one => Tables.Minutes(one.From))) + (stretches.Count > Most ? $", {stretches.Count - Most} more" : "");
    }
}
