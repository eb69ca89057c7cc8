using System.Security.Cryptography;
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
        var rides = RidesFile.Read(project.Rides).ToDictionary(source => source.Source, source => source.Ride, StringComparer.Ordinal);
        var missing = project.Plan.Sources.Where(source => !rides.ContainsKey(source.Name)).Select(source => source.Name).ToArray();
        if (missing.Length > 0) throw new InputException(new Fault("MX192", new Place(project.Rides), $"there is no ride for {string.Join(", ", missing)}", "make the rides anew with mixscore fit"));
        var plan = LivePlan.Of(project.OnScore, [.. project.Plan.Sources.Select(source => rides[source.Name])]);
        return new Result(plan with { Sources = [.. plan.Sources.Zip(Active(project), (source, active) => source with { Active = active })] }, Key(project), warning);
    }

    // When each stem sounds, as it was measured; where it was not, a source is awaited wherever its ride is not off.
    private static IEnumerable<IReadOnlyList<(Seconds, Seconds)>?> Active(OpenProject project)
    {
        var measured = File.Exists(project.Measures) ? MeasureFile.Read(project.Measures).ToDictionary(stem => stem.Source, StringComparer.Ordinal) : [];
        return project.Plan.Sources.Select(source => measured.TryGetValue(source.Name, out var stem)
            ? (IReadOnlyList<(Seconds, Seconds)>)[.. stem.Active.Select(stretch => (stretch.From, stretch.To))]
            : null);
    }

    private static string Key(OpenProject project)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var file in new[] { project.Plan.File, project.Rides }) hash.AppendData(File.ReadAllBytes(file));
        return Convert.ToHexStringLower(hash.GetHashAndReset())[..16];
    }
}
