using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>All that the page shows and plays of a project. Sources, rides and stems are in the order of the plan.</summary>
public sealed record PageProject
{
    /// <summary>The plan on its score.</summary>
    public required PlanOnScore OnScore { get; init; }

    /// <summary>A ride a source.</summary>
    public required IReadOnlyList<Ride> Rides { get; init; }

    /// <summary>The stems, measured; none for a performance without stems.</summary>
    public required IReadOnlyList<MeasuredStem> Stems { get; init; }

    /// <summary>What the marks ask, by the source's name.</summary>
    public required IReadOnlyDictionary<string, AskedOverTime> Asked { get; init; }

    /// <summary>The plan.</summary>
    public MixPlan Plan => OnScore.Plan;

    /// <summary>The bars as played.</summary>
    public Timeline Timeline => OnScore.Timeline;

    /// <summary>The plan's text, of which all the rest was made; <c>null</c> where its marks are not edited.</summary>
    internal string? Text { get; init; }

    /// <summary>Where the score lies, as a full path.</summary>
    internal string ScorePath => Path.Combine(Plan.Folder, Plan.Score);

    /// <summary>The loudness of a source's stem where it plays, every tenth of a second, over the window that it is judged by.</summary>
    internal LoudnessTrace LoudnessOf(int source) =>
        Stems.Count == 0 ? new LoudnessTrace([]) : ActiveLoudness.Of(Stems[source], Plan.Reference, 0.1, Plan.Sources[source].Window);
}
