using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The piece with bars counted before it: the same bars, letters and tempi, all later by the count-in.</summary>
/// <param name="Led">The count-in's bars, called <c>count-in</c>, and then the piece.</param>
/// <param name="Bars">How many bars are counted, the shortened one before a pickup among them.</param>
/// <param name="Length">How long they are.</param>
public sealed record CountIn(Timeline Led, int Bars, Quarters Length)
{
    /// <summary>How long the count-in lasts: the time from its start to that of the piece.</summary>
    public Seconds Lead => Led.Tempo.SecondsAt(Length);

    /// <summary>
    /// Counts before a piece, in its first meter. A pickup is counted to: together with the last bar of the count-in it
    /// makes a whole bar. A piece without meter is counted in the beats of its first bar.
    /// </summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="bars">How many bars, 0 or more.</param>
    /// <param name="tempo">Quarters a minute, above 0.</param>
    public static CountIn Before(Timeline timeline, int bars, double tempo)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(bars);
        if (bars == 0) return new CountIn(timeline, 0, Quarters.Zero);
        var first = timeline.Bars[0];
        var meter = first.Meter.Beats.Count > 0 ? first.Meter
            : new Meter(first.Meter.Text, [.. Enumerable.Repeat(first.Meter.Unit, Math.Min(4, first.Beats.Count))]);
        var counted = new List<PlayedBar>();
        var at = Quarters.Zero;
        for (var i = 0; i < bars; i++)
        {
            var length = i == bars - 1 && first.Meter.Beats.Count > 0 && first.Length < meter.Length ? meter.Length - first.Length : meter.Length;
            counted.Add(new PlayedBar
            {
                Index = i + 1,
                Label = "count-in",
                Written = i + 1 - bars,
                Pass = 1,
                Movement = first.Movement,
                Meter = meter,
                Start = at,
                Length = length,
                Beats = PlayedBar.BeatsOf(at, length, meter),
            });
            at += length;
        }
        var piece = timeline.Bars.Select(bar => bar with { Index = bar.Index + bars, Start = bar.Start + at, Beats = [.. bar.Beats.Select(beat => beat + at)] });
        var letters = timeline.Letters.Select(letter => letter with { Bar = letter.Bar + bars });
        var tempi = timeline.Tempo.Pieces.Select(one => one with { From = one.From + at });
        return new CountIn(new Timeline([.. counted, .. piece], [.. letters], new TempoMap([new TempoPiece(Quarters.Zero, tempo), .. tempi])), bars, at);
    }
}
