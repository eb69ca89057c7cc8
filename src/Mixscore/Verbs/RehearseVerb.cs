using System.ComponentModel;
using Mixscore.Desk;
using Mixscore.Live;
using Mixscore.Page;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>rehearse PLAN</c>: the page, playing the stems through the plan.</summary>
internal sealed class RehearseVerb(Terminal terminal) : AsyncCommand<RehearseVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<PLAN>")]
        [Description("The plan (*.mix.yaml), or the project folder that holds it.")]
        public required string Plan { get; init; }

        [CommandOption("--port <N>")]
        [Description("Where the page is served on this machine; 0 for any port that is free.")]
        [DefaultValue(0)]
        public int Port { get; init; }

        [CommandOption("--desk <MAP>")]
        [Description("A desk map (*.desk.yaml) whose faders are moved along; as often as there are desks.")]
        public string[] Desks { get; init; } = [];

        [CommandOption("--no-open")]
        [Description("Do not open a browser.")]
        public bool NoOpen { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        if (settings.Port is < 0 or > 65535) throw new InputException(new Fault("MX501", new Place("--port"), $"{settings.Port} is no port", "write 0 to 65535"));
        var project = OpenProject.Open(settings.Plan);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings]);
        var page = new PageProject
        {
            OnScore = project.OnScore,
            Rides = rides.Rides,
            Stems = rides.Measured.Measured,
            Asked = AskedOverTime.Of(project.Timeline, project.Plan.Limits, rides.Sources, rides.Rides),
        };
        var live = LiveStep.Of(project, rides.Fitted, [.. rides.Measured.Measured.Select(stem => stem.Measurement)]);
        var options = new SessionOptions
        {
            Desks = [.. settings.Desks.SelectMany(DeskMapReader.Read)],
            Run = new RunSettings { CountInBars = 0 },
            Plan = project.Plan.File,
            PlanKey = live.Key,
            LogFolder = Path.Combine(project.Plan.Folder, "log"),
            IsArmed = settings.Desks.Length > 0,
            IsTickedFromOutside = true,
        };
        using var session = LiveSession.Open(live.Plan, options, TimeProvider.System);
        if (session.LogTrouble is { } trouble) terminal.Say($"Note: the log is {(session.LogPath is { } elsewhere ? $"at {elsewhere}" : "not kept")}, since {trouble}");
        using var rehearsal = new Rehearsal(page, session, TimeProvider.System);
        await using var server = await PageServer.StartAsync(page, rehearsal, settings.Port, cancellation);
        rehearsal.Start();
        terminal.Say($"page: {server.Address}");
        if (!PageServer.HasPage) terminal.Say("The page was left out of this build: install Node.js 20 or later and build Mixscore again.");
        else if (!settings.NoOpen) Browser.Open(server.Address);
        await Task.Delay(Timeout.Infinite, cancellation).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        return ExitCode.Good;
    }
}
