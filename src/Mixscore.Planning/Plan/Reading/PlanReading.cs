using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One reading of a plan: from nodes to the model, with every fault on the way.</summary>
internal sealed class PlanReading(string file, FaultList faults)
{
    private static readonly string[] Keys = ["title", "score", "reference", "repeats", "tempo-from", "tempo", "sites", "sources", "lead", "levels", "pins", "grid", "limits", "dynamics", "click", "call", "hall"];

    /// <summary>The plan; what could not be read holds its default, and there is a fault.</summary>
    internal MixPlan? Read(YamlNode root)
    {
        var start = new Place(file, 1, 1);
        if (Section.Open("a plan", root, start, faults, Keys) is not { } plan) return null;
        var title = plan.Text(plan.Need("title", "begin with a title, such as \"title: Night Ferry\""));
        var scorePair = plan.Need("score", "name the score's file, such as \"score: night-ferry.musicxml\"");
        var score = plan.Text(scorePair);
        var sites = SitesSection.Read(plan.Need("sites",
            "name the sites, such as \"sites:\" and under it \"north: { link: { delay: 38 ms } }\""), faults);
        var grid = GridWord.Read(plan, plan["grid"], VertexGrid.Beats, faults);
        var sources = SourcesSection.Read(
            plan.Need("sources",
                "name the sources, such as \"sources:\" and under it \"north.voice: { role: voice, stem: stems/voice.wav, strip: 1 }\""),
                sites, grid, faults);
        var dynamics = DynamicsSection.Read(plan["dynamics"], faults);
        return new MixPlan
        {
            File = Path.GetFullPath(file),
            Title = title ?? "",
            Score = score ?? "",
            ScorePlace = scorePair?.Value.Place ?? start,
            Reference = new Lufs(plan.Quantity("reference", Measure.Reference, -23)),
            WithRepeats = WithRepeats(plan, plan["repeats"]),
            TempoFrom = TempoFromSection.Read(plan["tempo-from"], faults),
            Tempo = TempoSection.Read(plan["tempo"], faults),
            Sites = [.. sites.Values],
            Sources = sources.Sources,
            Levels = LevelsSection.Read(plan["levels"], sources.Names, dynamics, faults),
            Lead = LeadSection.Read(plan["lead"], sources.Names, faults),
            Pins = PinsSection.Read(plan["pins"], sources.Names, faults),
            Grid = grid,
            Limits = LimitsSection.Read(plan["limits"], faults),
            Dynamics = dynamics,
            Click = ClickSection.Read(plan["click"], faults),
            Hall = HallSection.Read(plan["hall"], faults),
            Call = CallSection.Read(plan["call"], faults),
        };
    }

    /// <summary><c>repeats: no</c>; also <c>false</c>, as editors write it that know YAML 1.1.</summary>
    private bool WithRepeats(Section plan, YamlPair? pair)
    {
        switch (plan.Text(pair)?.ToLowerInvariant())
        {
            case null or "yes" or "true":
                return true;
            case "no" or "false":
                return false;
            default:
                faults.Add(PlanFault.UnknownWord, pair!.Value.Place, $"\"{plan.Text(pair)}\" does not say whether repeats are played", "write yes or no");
                return true;
        }
    }
}
