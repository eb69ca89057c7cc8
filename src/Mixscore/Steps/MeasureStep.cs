using Mixscore.Audio;
using Mixscore.Project;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>Stems opened, measured and written down.</summary>
internal static class MeasureStep
{
    internal sealed record Result(StemSet Stems, IReadOnlyList<MeasuredStem> Measured);

    internal static async Task<Result> RunAsync(OpenProject project, Terminal terminal, CancellationToken cancellation)
    {
        var stems = StemSet.Open(project.Plan, project.Timeline);
        var measured = await WorkProgress.RunAsync(terminal, "measuring stems", progress => StemMeasure.Measure(stems, project.Timeline, StemMeasure.CacheFolder(project.Plan), project.Performance, progress, project.Hashes(), cancellation));
        WholeFile.Write(project.Measures, MeasureFile.ToJson(measured.Select(stem => stem.Measurement)));
        return new Result(stems, measured);
    }
}
