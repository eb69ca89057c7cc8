using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Project;

/// <summary>A project folder: the plan laid on its score, and where the files lie that the verbs make.</summary>
internal sealed class OpenProject
{
    /// <summary>Of a plan that is open already.</summary>
    internal OpenProject(PlanOnScore onScore) => OnScore = onScore;

    private StemHashes? _hashes;

    internal PlanOnScore OnScore { get; }

    internal MixPlan Plan => OnScore.Plan;

    internal Timeline Timeline => OnScore.Timeline;

    /// <summary>What the parts play.</summary>
    internal Performance Performance => Performance.Of(OnScore.Score, Timeline);

    internal string Out => Path.Combine(Plan.Folder, "out");

    internal string Rides => Path.Combine(Out, "rides.json");

    internal string Measures => Path.Combine(Out, "measure.json");

    internal static bool IsPlan(string path) =>
        path.EndsWith(".yaml", StringComparison.OrdinalIgnoreCase) || path.EndsWith(".yml", StringComparison.OrdinalIgnoreCase) || Directory.Exists(path);

    /// <summary>Opens a plan, or the one plan in a folder.</summary>
    /// <param name="path">The file, or the folder.</param>
    /// <param name="changed">What to change in the plan before it is used; <c>null</c> for nothing.</param>
    internal static OpenProject Open(string path, Func<MixPlan, MixPlan>? changed = null) => new(PlanOnScore.Open(FindPlan(path), changed));

    /// <summary>The same, for a verb that measures: the stems are hashed while the score is read.</summary>
    /// <inheritdoc cref="Open"/>
    internal static OpenProject OpenToMeasure(string path, Func<MixPlan, MixPlan>? changed = null)
    {
        StemHashes? hashes = null;
        var project = Open(path, plan =>
        {
            hashes = StemHashes.Begin(plan);
            return changed?.Invoke(plan) ?? plan;
        });
        project._hashes = hashes;
        return project;
    }

    /// <summary>What the stems hash to, for one look at them: who asks again has them hashed anew.</summary>
    internal StemHashes Hashes() => Interlocked.Exchange(ref _hashes, null) ?? new StemHashes();

    internal static string FindPlan(string path)
    {
        if (!Directory.Exists(path)) return Path.GetFullPath(path);
        var plans = Directory.GetFiles(path, "*.mix.yaml");
        return plans.Length switch
        {
            1 => Path.GetFullPath(plans[0]),
            0 => throw new InputException(new Fault("MX001", new Place(path), "the folder holds no plan", "name a *.mix.yaml file, or begin a project with mixscore start")),
            _ => throw new InputException(new Fault("MX002", new Place(path), $"the folder holds {plans.Length} plans", "name one of them: " + string.Join(", ", plans.Select(Path.GetFileName).Order(StringComparer.Ordinal)))),
        };
    }

    /// <summary>A path as a person at the prompt would write it.</summary>
    internal static string Shown(string path)
    {
        var relative = Path.GetRelativePath(Environment.CurrentDirectory, path);
        return relative.StartsWith("..", StringComparison.Ordinal) ? path : relative;
    }
}
