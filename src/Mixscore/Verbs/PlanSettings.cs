using System.ComponentModel;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary>What every verb that works on a plan takes.</summary>
internal class PlanSettings : CommandSettings
{
    [CommandArgument(0, "<PLAN>")]
    [Description("The plan (*.mix.yaml), or the project folder that holds it.")]
    public required string Plan { get; init; }

    [CommandOption("--json")]
    [Description("Report as JSON.")]
    public bool Json { get; init; }
}
