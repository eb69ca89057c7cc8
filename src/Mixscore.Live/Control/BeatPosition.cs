using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>A place as it is called: <c>bar[@pass]:beat</c>.</summary>
public static class BeatPosition
{
    /// <summary>The beat that sounds; during the count-in the beats that are still counted, as <c>-3</c>.</summary>
    /// <param name="timeline">The bars.</param>
    /// <param name="at">Seconds into the score.</param>
    /// <param name="countIn">How long the count-in still lasts.</param>
    public static string Of(Timeline timeline, Seconds at, Seconds countIn = default)
    {
        if (countIn > Seconds.Zero)
        {
            var begins = timeline.Tempo.QuartersAt(at + countIn) + 1e-7;
            var beat = timeline.BarAt(begins).Meter.Unit.ToDouble() * 60 / timeline.Tempo.TempoAt(begins);
            return $"-{Math.Ceiling((countIn.Value / beat) - 1e-6):0}";
        }

        var quarters = timeline.Tempo.QuartersAt(at) + 1e-7;
        var bar = timeline.BarAt(quarters);
        if (quarters < 0) return $"-{Math.Ceiling(-quarters / bar.Meter.Unit.ToDouble()):0}";
        return quarters >= timeline.End.ToDouble() ? "end" : $"{Name(timeline, bar)}:{BeatOf(bar, quarters)}";
    }

    /// <summary>The bar's name as positions have it, with its movement, pass and bars after where they are needed.</summary>
    public static string Name(Timeline timeline, PlayedBar bar) => timeline.PositionAt(bar.Start).ToString();

    /// <summary>The beat of a bar, from 1.</summary>
    public static int BeatOf(PlayedBar bar, double quarters)
    {
        var beat = 1;
        while (beat < bar.Beats.Count && bar.Beats[beat].ToDouble() <= quarters) beat++;
        return beat;
    }
}
