using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>Two versions of a plan, with the rides that the fit makes of each; nothing is written but what was measured of the stems.</summary>
internal static class CompareStep
{
    internal sealed record Result(PlanComparison Comparison, IReadOnlyList<string> Notes);

    internal static async Task<Result> PlansAsync(OpenProject before, OpenProject after, Loudness.Decibels tolerance, Terminal terminal, CancellationToken cancellation)
    {
        var notes = new List<string>();
        var (was, becomes) = (await Rides(before, notes, terminal, cancellation), await Rides(after, notes, terminal, cancellation));
        return new Result(PlanComparison.Of(before.OnScore, after.OnScore, was is null || becomes is null ? null : (was, becomes), tolerance), notes);
    }

    // Both may lie in one folder, so its out/rides.json is neither read nor written.
    private static async Task<IReadOnlyList<Ride>?> Rides(OpenProject project, List<string> notes, Terminal terminal, CancellationToken cancellation)
    {
        try
        {
            var stems = StemSet.Open(project.Plan, project.Timeline);
            var measured = await WorkProgress.RunAsync(terminal, "measuring stems", progress => StemMeasure.Measure(stems, project.Timeline, StemMeasure.CacheFolder(project.Plan), project.Performance, progress, cancellation: cancellation));
            var fitted = await WorkProgress.RunAsync(terminal, "fitting rides", _ => RideFitter.Fit(project.Timeline, project.Plan.Limits, SourcesToFit.Of(project.OnScore, measured)));
            return [.. fitted.Select(source => source.Ride)];
        }
        catch (Exception problem) when (problem is InputException or UnavailableException)
        {
            var fault = problem is InputException input ? input.Faults[0] : ((UnavailableException)problem).Faults[0];
            notes.Add($"{Path.GetFileName(project.Plan.File)}: its rides are not known, since {fault.Found}.");
            return null;
        }
    }
}
