using Mixscore.Live;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>Logs read and folded into a project's plan: what they propose, nothing written.</summary>
internal static class FoldStep
{
    internal sealed record Result(Folded Folded, IReadOnlyList<string> Notes);

    internal static async Task<Result> RunAsync(OpenProject project, IEnumerable<string> logs, Decibels tolerance, Terminal terminal, CancellationToken cancellation)
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
        var folded = await WorkProgress.RunAsync(terminal, "folding", _ => Folding.Of(project.OnScore, rides.Sources, hands, tolerance));
        return new Result(folded, notes);
    }

    /// <summary>Writes proposals into the plan and its hall's file.</summary>
    internal static void Accept(OpenProject project, IReadOnlyList<FoldProposal> proposals)
    {
        var plan = PlanEditor.Open(project.Plan.File, project.Timeline);
        var hallPath = proposals.Select(proposal => proposal.Hall).FirstOrDefault(name => name is not null) is { } name ? HallFile.PathOf(project.Plan.Folder, name) : null;
        var hall = hallPath is null ? null : File.Exists(hallPath) ? PlanEditor.Open(hallPath) : new PlanEditor($"# yaml-language-server: $schema={HallSchema.FileName}\n# What this hall asks of every piece: dB by which a source's levels count higher here.\ntitle: " + Path.GetFileNameWithoutExtension(hallPath) + "\n", hallPath);
        foreach (var proposal in proposals) FoldAcceptance.Write(proposal, plan, hall);
        WholeFile.Write(project.Plan.File, plan.Text);
        if (hall is null) return;
        WholeFile.Write(hallPath!, hall.Text);
        WholeFile.Write(Path.Combine(Path.GetDirectoryName(hallPath!)!, HallSchema.FileName), HallSchema.Text);
    }

    /// <summary>A log, or the newest of a project folder.</summary>
    internal static string PathOf(string log) => !Directory.Exists(log)
        ? log
        : LogFile.Newest(Path.Combine(log, "log")) ?? LogFile.Newest(log) ?? throw new InputException(new Fault("MX601", new Place(log), "the folder holds no log", "name a *.log.jsonl file"));
}
