using Mixscore.Audio;
using Mixscore.Live;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>What a live run needs of a project. The rides that are there are taken as they are: on the night nothing is fitted
/// behind the engineer's back, and stems are not needed.</summary>
internal static class LiveStep
{
    internal sealed record Result(LivePlan Plan, string Key, string? Warning);

    internal static async Task<Result> RunAsync(OpenProject project, Terminal terminal, CancellationToken cancellation)
    {
        string? warning = null;
        if (!File.Exists(project.Rides)) await RidesStep.RunAsync(project, terminal, cancellation);
        else if (!File.Exists(project.Measures) || !RidesKey.Stands(project)) warning = $"plan, score or stems have changed since {OpenProject.Shown(project.Rides)} was made; it is performed as it is (mixscore fit makes it anew)";
        var measured = File.Exists(project.Measures) ? MeasureFile.Read(project.Measures) : [];
        return Of(project, RidesStep.Kept(project), measured) with { Warning = warning };
    }

    /// <summary>Of rides and measurements that are at hand.</summary>
    internal static Result Of(OpenProject project, IReadOnlyList<FittedSource> rides, IReadOnlyList<StemMeasurement> measured)
    {
        var plan = LivePlan.Of(project.OnScore, [.. rides.Select(source => source.Ride)]);
        var active = measured.ToDictionary(stem => stem.Source, stem => stem.Active, StringComparer.Ordinal);
        var sources = plan.Sources.Select(source => source with { Active = Stretches(active.GetValueOrDefault(source.Source.Name)) });
        return new Result(plan with { Sources = [.. sources] }, RidesKey.Hash(project.Plan.File, project.Rides)[..16], null);
    }

    // When a stem sounds, as it was measured; where it was not, its source is awaited wherever its ride is not off.
    private static IReadOnlyList<(Seconds, Seconds)>? Stretches(IReadOnlyList<Stretch>? active) =>
        active is null ? null : [.. active.Select(stretch => (stretch.From, stretch.To))];
}
