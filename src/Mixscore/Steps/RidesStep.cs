using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>The rides of a project: from <c>out/rides.json</c> where they fit the plan as it is, else fitted.</summary>
internal static class RidesStep
{
    /// <summary>Rides with what they were made of.</summary>
    internal sealed record Result(IReadOnlyList<FittedSource> Fitted, MeasureStep.Result Measured, IReadOnlyList<SourceToFit> Sources, bool WasFitted)
    {
        internal IReadOnlyList<Ride> Rides => [.. Fitted.Select(source => source.Ride)];
    }

    /// <summary>Takes the rides that are there, and fits only where the plan, the score or a stem has changed since.</summary>
    internal static async Task<Result> RunAsync(OpenProject project, Terminal terminal, CancellationToken cancellation, bool mustFit = false)
    {
        var measured = await MeasureStep.RunAsync(project, terminal, cancellation);
        var sources = SourcesToFit.Of(project.OnScore, measured.Measured);
        if (!mustFit && RidesKey.Stands(project)) return new Result(Kept(project), measured, sources, WasFitted: false);

        var fitted = await WorkProgress.RunAsync(terminal, "fitting rides", _ => RideFitter.Fit(project.Timeline, project.Plan.Limits, sources));
        Keep(project, fitted);
        // Taken from the file, whose numbers are rounded, so that every later step gives the same today and tomorrow.
        return new Result(Kept(project), measured, sources, WasFitted: true);
    }

    /// <summary>Writes rides down, with what they were made of.</summary>
    internal static void Keep(OpenProject project, IReadOnlyList<FittedSource> fitted)
    {
        using var text = new MemoryStream();
        RidesFile.Write(text, project.Timeline, fitted);
        WholeFile.Write(project.Rides, text.ToArray());
        RidesKey.Write(project);
    }

    /// <summary>The rides as the file has them, in the plan's order.</summary>
    internal static IReadOnlyList<FittedSource> Kept(OpenProject project)
    {
        var kept = RidesFile.Read(project.Rides).ToDictionary(source => source.Source);
        var missing = project.Plan.Sources.Where(source => !kept.ContainsKey(source.Name)).Select(source => source.Name).ToArray();
        if (missing.Length > 0) throw new InputException(new Fault("MX192", new Place(project.Rides), $"there is no ride for {string.Join(", ", missing)}", "make the rides anew with mixscore fit"));
        return [.. project.Plan.Sources.Select(source => kept[source.Name])];
    }
}
