using Mixscore.Live;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>Logs read and folded into a project's plan: what they propose, nothing written.</summary>
internal static class FoldStep
{
    internal sealed record Result(Folded Folded, IReadOnlyList<string> Notes);

    internal static async Task<Result> RunAsync(OpenProject project, IEnumerable<string> logs, double tolerance, Terminal terminal, CancellationToken cancellation)
    {
        var nights = logs.Select(log => Night.Read(PathOf(log))).ToArray();
        var rides = await RidesStep.RunAsync(project, terminal, cancellation);
        var plan = LivePlan.Of(project.OnScore, rides.Rides);
        var notes = new List<string>();
        var hands = nights.Select(night =>
        {
            var of = NightHands.Of(night, plan, out var told);
            notes.AddRange(told.Select(note => $"{Path.GetFileName(night.Path)}: {note}"));
            return of;
        }).ToArray();
        var folded = await WorkProgress.RunAsync(terminal, "folding", _ => Folding.Of(project.OnScore, rides.Sources, hands, Loudness.Decibels.Of(tolerance)));
        return new Result(folded, notes);
    }

    /// <summary>A log, or the newest of a project folder.</summary>
    internal static string PathOf(string log) => !Directory.Exists(log)
        ? log
        : LogFile.Newest(Path.Combine(log, "log")) ?? LogFile.Newest(log) ?? throw new InputException(new Fault("MX601", new Place(log), "the folder holds no log", "name a *.log.jsonl file"));
}
