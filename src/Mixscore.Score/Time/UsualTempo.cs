using System.Globalization;

namespace Mixscore.Score;

/// <summary>
/// What is usual where a score does not say how much. Our own figures, to be set by ear: words of gradual change reach as
/// far as the next mark or words of tempo, but no farther than <see cref="MostBars"/> bars; they end at
/// <see cref="Slower"/> or <see cref="Faster"/> times the tempo; a fermata lasts <see cref="Held"/> times its beat.
/// </summary>
public static class UsualTempo
{
    /// <summary>How many bars words of gradual change reach at most, their own included.</summary>
    public const int MostBars = 4;

    /// <summary>What the tempo is multiplied by in the course of <c>rit.</c>, <c>rall.</c>, <c>allarg.</c></summary>
    public const double Slower = 0.8;

    /// <summary>What the tempo is multiplied by in the course of <c>accel.</c>, <c>string.</c></summary>
    public const double Faster = 1.25;

    /// <summary>How many times its beat a fermata lasts in all.</summary>
    public const double Held = 2;

    internal static string Hold(Timeline timeline, Quarters from, Quarters to)
    {
        var beat = timeline.Tempo.SecondsAt(to) - timeline.Tempo.SecondsAt(from);
        var held = Held * beat.Value;
        return Invariant($"{timeline.PositionAt(from)}: hold {(held < 1 ? Math.Max(held, 0.001).ToString("0.###", CultureInfo.InvariantCulture) : held.ToString("0.#", CultureInfo.InvariantCulture))} s");
    }

    /// <param name="timeline">The bars as played.</param>
    /// <param name="words">The words.</param>
    /// <param name="from">Where they stand.</param>
    /// <param name="next">The next mark or words of tempo behind them; the end of the piece where there are none.</param>
    internal static string Change(Timeline timeline, GradualTempo words, Quarters from, Quarters next)
    {
        var tempo = timeline.Tempo.TempoAt(from.ToDouble());
        var at = timeline.PositionAt(from);
        if (words.Change == TempoChange.Back)
        {
            var first = SpokenWords.IsFirstTempo(words.Words) ? timeline.Tempo.Pieces[0].StartTempo : tempo;
            return Invariant($"{at}: {Sayable(first):0.#}");
        }
        var last = timeline.Bars[Math.Min(timeline.BarAt(from).Index + MostBars - 1, timeline.Bars.Count) - 1];
        var to = Quarters.Min(next, last.End);
        return Invariant($"{at}: {Sayable(tempo):0.#} > {Sayable(tempo * (words.Change == TempoChange.Slower ? Slower : Faster)):0.#} by {timeline.PositionAt(to)}");
    }

    /// <summary>A tempo that a plan may say: 1 to 3000 quarters a minute.</summary>
    private static double Sayable(double tempo) => Math.Clamp(tempo, 1, 3000);

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
