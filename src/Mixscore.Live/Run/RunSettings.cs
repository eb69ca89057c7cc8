using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>How a run behaves. The figures are our own choice.</summary>
public sealed record RunSettings
{
    /// <summary>From a tick to the next.</summary>
    public static TimeSpan Tick { get; } = TimeSpan.FromMilliseconds(20);

    /// <summary>Over how many beats a source that is handed back returns; 4 unless set.</summary>
    public double BackBeats { get; init; } = 4;

    /// <summary>Over how many beats a source returns whose feed is back; 4 unless set.</summary>
    public double UpBeats { get; init; } = 4;

    /// <summary>How many bars are counted in before the own click begins; <c>null</c> for the plan's own count-in, with which the
    /// players' click track begins too.</summary>
    public int? CountInBars { get; init; }

    /// <summary>Whether the run begins as the spare of another.</summary>
    public bool IsSpare { get; init; }

    /// <summary>The plan and rides, for another run that would follow; empty where none can.</summary>
    public string PlanKey { get; init; } = "";

    /// <summary>Tells this run from every other.</summary>
    public long Id { get; init; }

    /// <summary>How long is counted in.</summary>
    /// <param name="plan">The plan, with its count-in before the piece.</param>
    /// <param name="at">Where the music is to begin: anywhere but at the start of the piece it is counted in bars of that place.</param>
    internal Seconds CountIn(LivePlan plan, Seconds at)
    {
        var timeline = plan.Timeline;
        if (CountInBars is null && at == Seconds.Zero) return plan.Lead;
        var quarters = timeline.Tempo.QuartersAt(at);
        var bar = timeline.BarAt(quarters);
        var length = bar.Meter.Beats.Count > 0 ? bar.Meter.Length : bar.Length;
        return new Seconds((CountInBars ?? plan.CountInBars) * length.ToDouble() * 60 / timeline.Tempo.TempoAt(quarters));
    }
}
