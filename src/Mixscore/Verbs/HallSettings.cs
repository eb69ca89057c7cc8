using System.ComponentModel;
using Mixscore.Planning;
using Mixscore.Score;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary>What every verb takes that works with levels as a hall asks for them.</summary>
internal class HallSettings : PlanSettings
{
    [CommandOption("--hall <NAME>")]
    [Description("The hall, whose offsets stand in halls/NAME.yaml; without it the one that the plan names.")]
    public string? Hall { get; init; }

    /// <summary>The plan for that hall.</summary>
    /// <exception cref="InputException">It cannot be a hall's name.</exception>
    internal MixPlan InHall(MixPlan plan)
    {
        if (Hall is null) return plan;
        if (Hall.Length == 0 || Hall[0] == '.' || Hall.IndexOfAny(Path.GetInvalidFileNameChars()) >= 0)
            throw new InputException(new Fault("MX603", new Place("--hall"), $"\"{Hall}\" cannot be the name of a file", "write a name without slashes, such as quay"));
        return plan with { Hall = plan.Hall with { Name = Hall } };
    }
}
