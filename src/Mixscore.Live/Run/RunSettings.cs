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

    /// <summary>How many bars are counted in before the own click begins; 1 unless set.</summary>
    public int CountInBars { get; init; } = 1;

    /// <summary>How long before an end of the count-in, for a bar that starts at a place.</summary>
    /// <param name="timeline">The bars.</param>
    /// <param name="at">Where the piece begins.</param>
    internal Seconds CountIn(Timeline timeline, Seconds at)
    {
        var quarters = timeline.Tempo.QuartersAt(at);
        var bar = timeline.BarAt(quarters);
        var length = bar.Meter.Beats.Count > 0 ? bar.Meter.Length : bar.Length;
        return new Seconds(CountInBars * length.ToDouble() * 60 / timeline.Tempo.TempoAt(quarters));
    }
}
