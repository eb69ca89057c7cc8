using Mixscore.Planning;

namespace Mixscore.Audio;

/// <summary>The sources of a plan as the fit takes them, with what their stems hold.</summary>
public static class SourcesToFit
{
    /// <summary>How often the loudness of a stem is taken for the fit, in seconds.</summary>
    private const double Every = 0.1;

    /// <summary>Joins plan and stems.</summary>
    /// <param name="plan">The plan on its score.</param>
    /// <param name="measured">The stems, in the plan's order; empty where there are none, and then nothing is known of how loud they are.</param>
    public static IReadOnlyList<SourceToFit> Of(PlanOnScore plan, IReadOnlyList<MeasuredStem> measured) =>
    [
        .. plan.Sources.Select((source, i) => new SourceToFit(
            source.Source.Name, source.Source.Within, source.Levels,
            measured.Count == 0 ? new LoudnessTrace([]) : ActiveLoudness.Of(measured[i], plan.Plan.Reference, Every, source.Source.Window),
            source.Source.Site.Link.Delay) { Pins = source.Pins, Grid = source.Source.Grid }),
    ];
}
