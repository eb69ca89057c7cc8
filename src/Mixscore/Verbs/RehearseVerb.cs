using System.ComponentModel;
using Mixscore.Desk;
using Mixscore.Live;
using Mixscore.Page;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>rehearse PLAN</c>: the page, playing the stems through the plan.</summary>
internal sealed class RehearseVerb(Terminal terminal) : AsyncCommand<RehearseVerb.Settings>
{
    internal sealed class Settings : PageSettings
    {
        [CommandOption("--desk <MAP>")]
        [Description("A desk map (*.desk.yaml) whose faders are moved along; as often as there are desks.")]
        public string[] Desks { get; init; } = [];
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var served = settings.Page();
        var project = OpenProject.OpenToMeasure(settings.Plan, settings.InHall);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings]);
        var page = PageStep.Of(project, rides);
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
        using var edited = new EditedProject(page, KeepRides, TimeProvider.System);
        rehearsal.Follow(edited);
        await using var server = await PageServer.StartAsync(edited, rehearsal, served, cancellation);
        rehearsal.Start();
        foreach (var line in PageLinks.Of(server)) terminal.Say(line);
        if (PageServer.HasPage && !settings.NoOpen) Browser.Open(server.Address);
        server.BeReady();
        await Task.Delay(Timeout.Infinite, cancellation).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        return ExitCode.Good;
    }

    // Taken from the file, as every later step has them.
    private static IReadOnlyList<Ride> KeepRides(PlanOnScore plan, IReadOnlyList<FittedSource> fitted)
    {
        var project = new OpenProject(plan);
        RidesStep.Keep(project, fitted);
        return [.. RidesStep.Kept(project).Select(source => source.Ride)];
    }
}
