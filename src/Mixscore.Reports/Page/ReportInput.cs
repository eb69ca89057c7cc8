using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>All that a report shows.</summary>
public sealed record ReportInput
{
    /// <summary>The plan.</summary>
    public required MixPlan Plan { get; init; }

    /// <summary>The piece as played.</summary>
    public required Timeline Timeline { get; init; }

    /// <summary>What the check found.</summary>
    public required CheckResult Result { get; init; }

    /// <summary>Warnings of the score, the plan and the stems, a sentence each.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];
}
