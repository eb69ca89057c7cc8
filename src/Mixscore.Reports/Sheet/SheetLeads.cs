using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// Who leads in each bar: the source whose mark asks to be clear there, else the one that the plan names, else the loudest
/// by level of those that play.
/// </summary>
internal sealed class SheetLeads
{
    private readonly PlanOnScore _plan;
    private readonly Dictionary<string, bool[]?> _plays;

    internal SheetLeads(SheetInput input)
    {
        _plan = input.Plan;
        _plays = input.Plan.Sources.ToDictionary(source => source.Source.Name, source => Plays(source, input.Performance, input.Plan.Timeline));
        ByBar = [.. input.Plan.Timeline.Bars.Select(Lead)];
    }

    /// <summary>The lead of each bar in played order; <c>null</c> where nobody is heard.</summary>
    internal IReadOnlyList<string?> ByBar { get; }

    /// <summary>What should be heard of a source at a place, in LU over the reference; <c>null</c> for off.</summary>
    internal static double? Level(PlanOnScore plan, string source, double quarters) =>
        plan[source].Levels.LevelAt(quarters, (others, at) => Together(plan, others, at))?.Value;

    private static Loudness.Decibels? Together(PlanOnScore plan, IReadOnlyList<string> sources, double quarters)
    {
        var power = sources.Sum(source => Level(plan, source, quarters) is { } level ? Math.Pow(10, level / 10) : 0);
        return power > 0 ? Loudness.Decibels.Of(10 * Math.Log10(power)) : null;
    }

    /// <summary>Whether a source plays in a bar; one without a part always does.</summary>
    private bool IsPlaying(string source, PlayedBar bar) => _plays[source] is not { } bars || bars[bar.Index - 1];

    private string? Lead(PlayedBar bar)
    {
        var playing = _plan.Sources.Select(source => source.Source.Name).Where(name => IsPlaying(name, bar)).ToArray();
        var clear = playing.FirstOrDefault(name => _plan[name].Levels.SegmentAt(bar.Start).Mark?.Clear is not null);
        if (clear is not null) return clear;
        if (_plan.Leads.LastOrDefault(lead => lead.From <= bar.Start).Source is { } named) return named;
        return playing.Select(name => (name, Power: MeanPower(name, bar))).Where(one => one.Power > 0).OrderByDescending(one => one.Power).FirstOrDefault().name;
    }

    private double MeanPower(string source, PlayedBar bar) =>
        bar.Beats.Average(beat => Level(_plan, source, beat.ToDouble()) is { } level ? Math.Pow(10, level / 10) : 0);

    private static bool[]? Plays(PlannedSource source, Performance performance, Timeline timeline)
    {
        if (source.Part is not { } part || performance.Parts.FirstOrDefault(one => one.Id == part.Id) is not { } played) return null;
        var bars = new bool[timeline.Bars.Count];
        foreach (var note in played.Notes)
            for (var index = timeline.BarAt(note.Start).Index; index <= bars.Length && timeline.Bars[index - 1].Start < note.End; index++) bars[index - 1] = true;
        return bars;
    }
}
