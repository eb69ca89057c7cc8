using System.ComponentModel;
using Mixscore.Live;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>compare PLAN PLAN</c> or <c>compare LOG LOG</c>: how two versions of a plan, or two nights, differ.</summary>
internal sealed class CompareVerb(Terminal terminal) : AsyncCommand<CompareVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<BEFORE>")]
        [Description("A plan (*.mix.yaml, or its project folder) or a log (*.log.jsonl).")]
        public required string Before { get; init; }

        [CommandArgument(1, "<AFTER>")]
        [Description("Another of the same kind; places are told as it has them.")]
        public required string After { get; init; }

        [CommandOption("--plan <PLAN>")]
        [Description("For logs: the plan on which both are laid; without it the one that the second was played from.")]
        public string? Plan { get; init; }

        [CommandOption("--tolerance <DB>")]
        [Description("How far apart faders may stand and still be the same.")]
        [DefaultValue(1.0)]
        public double Tolerance { get; init; } = 1;

        [CommandOption("--report <FILE>")]
        [Description("Write a report with plots, an HTML page.")]
        public string? Report { get; init; }

        [CommandOption("--json")]
        [Description("Report as JSON.")]
        public bool Json { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var tolerance = ToleranceOption.Read(settings.Tolerance);
        ReportFile.Check(settings.Report);
        var (areLogs, arePlans) = (IsLog(settings.Before) && IsLog(settings.After), OpenProject.IsPlan(settings.Before) && OpenProject.IsPlan(settings.After));
        if (!areLogs && !arePlans)
            throw new InputException(new Fault("MX604", new Place(IsLog(settings.Before) || OpenProject.IsPlan(settings.Before) ? settings.After : settings.Before), $"{settings.Before} and {settings.After} are not two of a kind", "name two plans (*.mix.yaml) or two logs (*.log.jsonl)"));
        if (arePlans && settings.Plan is not null)
            throw new InputException(new Fault("MX604", new Place("--plan"), "two plans need no third", "leave --plan out, or name two logs"));
        return areLogs ? Nights(settings, tolerance) : await Plans(settings, tolerance, cancellation);
    }

    private static bool IsLog(string path) => path.EndsWith(".jsonl", StringComparison.OrdinalIgnoreCase);

    private async Task<int> Plans(Settings settings, Decibels tolerance, CancellationToken cancellation)
    {
        var result = await CompareStep.PlansAsync(OpenProject.Open(settings.Before), OpenProject.Open(settings.After), tolerance, terminal, cancellation);
        var comparison = result.Comparison;
        if (settings.Json) JsonOut.Write(terminal, CompareJson.Of(comparison, result.Notes));
        else
        {
            Show("Said once", PlanWords.Settings(comparison));
            Show("What the marks ask", PlanWords.Levels(comparison));
            Show("Faders", PlanWords.Gains(comparison.Rides ?? []));
            foreach (var sentence in PlanWords.Summary(comparison)) terminal.Say(sentence);
            foreach (var note in result.Notes) terminal.Error.WriteLine(note);
        }
        Write(settings, () => PlanComparePage.Write(comparison, Names(comparison.Before.Plan.File, comparison.After.Plan.File), result.Notes));
        return ExitCode.Good;
    }

    // Two versions of one name are told apart by their folders.
    private static (string Before, string After) Names(string before, string after)
    {
        static string InFolder(string path) => Path.Combine(Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(path)))!, Path.GetFileName(path));
        var (first, second) = (Path.GetFileName(before), Path.GetFileName(after));
        return first == second ? (InFolder(before), InFolder(after)) : (first, second);
    }

    private int Nights(Settings settings, Decibels tolerance)
    {
        var (before, after) = (Night.Read(settings.Before), Night.Read(settings.After));
        var project = NightStep.ProjectOf(after, settings.Plan);
        var comparison = NightComparison.Of(project.OnScore, NightStep.RecordOf(before, project), NightStep.RecordOf(after, project), tolerance);
        if (settings.Json) JsonOut.Write(terminal, CompareJson.Of(comparison));
        else
        {
            Show("Side by side", NightWords.Figures(comparison));
            Show("Hands", NightWords.Hands(comparison));
            Show("The plans then in force", PlanWords.Gains(comparison.Plans));
            Show("Feeds, clock, ticks and notes", NightWords.Events(comparison));
            foreach (var sentence in NightWords.Summary(comparison)) terminal.Say(sentence);
            foreach (var night in new[] { comparison.Before, comparison.After })
                foreach (var note in night.Notes) terminal.Error.WriteLine($"{night.Name}: {note}.");
        }
        Write(settings, () => NightComparePage.Write(comparison));
        return ExitCode.Good;
    }

    private void Show(string title, WordTable words)
    {
        if (words.Rows.Count == 0) return;
        terminal.Say(title);
        terminal.Out.Write(Tables.Of(words));
    }

    private void Write(Settings settings, Func<string> page)
    {
        if (settings.Report is not { } path) return;
        WholeFile.Write(path, page());
        if (!settings.Json) terminal.Say($"The report is {path}.");
    }
}
