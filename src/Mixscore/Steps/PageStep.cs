using Mixscore.Audio;
using Mixscore.Page;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>What the page shows of a project.</summary>
internal static class PageStep
{
    internal static PageProject Of(OpenProject project, RidesStep.Result rides) => Of(project, rides.Rides, rides.Measured.Measured, rides.Sources);

    /// <summary>For a performance: with the stems where they are there, and without what was measured of them where they are not.</summary>
    internal static async Task<PageProject> OfAsync(OpenProject project, IReadOnlyList<Ride> rides, Terminal terminal, CancellationToken cancellation)
    {
        try
        {
            var measured = await MeasureStep.RunAsync(project, terminal, cancellation);
            return Of(project, rides, measured.Measured, SourcesToFit.Of(project.OnScore, measured.Measured));
        }
        catch (Exception problem) when (problem is InputException or IOException or UnauthorizedAccessException)
        {
            terminal.Say($"Note: the page shows no measured levels, since {problem.Message}");
            return Of(project, rides, [], SourcesToFit.Of(project.OnScore, []));
        }
    }

    private static PageProject Of(OpenProject project, IReadOnlyList<Ride> rides, IReadOnlyList<MeasuredStem> stems, IReadOnlyList<SourceToFit> sources) => new()
    {
        OnScore = project.OnScore,
        Rides = rides,
        Stems = stems,
        Asked = AskedOverTime.Of(project.Timeline, project.Plan.Limits, sources, rides),
    };
}
