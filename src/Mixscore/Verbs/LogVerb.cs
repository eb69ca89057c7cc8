using System.ComponentModel;
using System.Globalization;
using Mixscore.Live;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>log FILE</c>: what happened in a night, by bar.</summary>
internal sealed class LogVerb(Terminal terminal) : AsyncCommand<LogVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("A log (*.log.jsonl), or a project folder for its newest.")]
        public required string File { get; init; }

        [CommandOption("--report <FILE>")]
        [Description("Write a report with plots, an HTML page.")]
        public string? Report { get; init; }

        [CommandOption("--plan <PLAN>")]
        [Description("For the report: the plan on which it is laid; without it the one that it was played from.")]
        public string? Plan { get; init; }

        [CommandOption("--recording <FILE>")]
        [Description("For the report: a recording of the mix in the hall (WAV), whose loudness is shown bar by bar, as check --recording does.")]
        public string? Recording { get; init; }

        [CommandOption("--recording-start <SECONDS>")]
        [Description("When the piece begins in the recording; without it that is looked for.")]
        public double? RecordingStart { get; init; }

        [CommandOption("--json")]
        [Description("Report as JSON.")]
        public bool Json { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var recording = RecordingStep.Of(settings.Recording, settings.RecordingStart);
        if (recording is not null && settings.Report is null)
            throw new InputException(new Fault("MX607", new Place("--recording"), "a recording is shown in the report, and none is asked for", "write --report FILE.html as well"));
        ReportFile.Check(settings.Report);
        var path = Directory.Exists(settings.File)
            ? LogFile.Newest(Path.Combine(settings.File, "log")) ?? LogFile.Newest(settings.File) ?? throw new FileNotFoundException($"{settings.File} holds no log")
            : settings.File;
        var night = Night.Read(path);
        if (settings.Report is { } report)
        {
            var project = NightStep.ProjectOf(night, settings.Plan);
            var heard = recording is null ? null : (await CheckStep.RunAsync(project, await RidesStep.RunAsync(project, terminal, cancellation), terminal, cancellation, recording)).Recording;
            WholeFile.Write(report, NightPage.Write(project.OnScore, NightStep.RecordOf(night, project), heard));
        }
        var (told, figures) = (NightStory.ByBar(night), NightStory.Figures(night));
        if (settings.Json)
        {
            JsonOut.Write(terminal, new
            {
                date = night.Head?.Date,
                plan = night.Head?.Plan,
                clock = night.Head?.Clock,
                desks = night.Head?.Desks ?? [],
                lateTicks = figures.LateTicks,
                latestTick = JsonOut.Rounded(figures.LatestTick, 6),
                clockHeld = figures.ClockHeld,
                drops = figures.Drops,
                hands = figures.Hands.Select(hand => new { source = hand.Key, times = hand.Value }),
                bars = told.Select(group => new { bar = group.Bar, told = group.Told }),
                broken = night.Broken,
            });
            return ExitCode.Good;
        }
        if (night.Head is { } head) terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{head.Plan}, {head.Date:yyyy-MM-dd HH:mm}, clock {head.Clock}, {string.Join(", ", head.Desks)}"));
        foreach (var (bar, lines) in told)
        {
            terminal.Say(bar.Length > 0 ? $"Bar {bar}" : "Before the piece");
            foreach (var line in lines) terminal.Say($"  {line}");
        }
        terminal.Say();
        terminal.Say(figures.Hands.Count == 0 ? "No source was taken." : $"Taken: {string.Join(", ", figures.Hands.Select(hand => $"{hand.Key} {(hand.Value == 1 ? "once" : $"{hand.Value} times")}"))}.");
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"Feeds gone: {figures.Drops}. Clock held: {figures.ClockHeld}. Late ticks: {figures.LateTicks}{(figures.LateTicks > 0 ? $", the latest by {figures.LatestTick * 1000:0} ms" : "")}."));
        if (night.Broken.Count > 0) terminal.Say($"Lines that could not be read: {string.Join(", ", night.Broken)}.");
        if (settings.Report is not null) terminal.Say($"The report is {settings.Report}.");
        return ExitCode.Good;
    }
}
