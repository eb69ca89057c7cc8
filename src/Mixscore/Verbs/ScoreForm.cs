using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Verbs;

/// <summary>The form of a piece at a glance: its played order as runs, and where meter and tempo change.</summary>
internal static class ScoreForm
{
    private const int MostShown = 24;

    /// <summary>Stretches of bars that follow one another in the score, each with its pass, such as <c>1–16</c>, <c>9–24 (2nd)</c>.</summary>
    internal static IEnumerable<string> Runs(Timeline timeline)
    {
        var bars = timeline.Bars;
        var hasMovements = bars.Any(bar => bar.Movement > 1);
        for (var first = 0; first < bars.Count;)
        {
            var last = first;
            while (last + 1 < bars.Count && Follows(bars[last], bars[last + 1]) && bars[last + 1].Pass == bars[first].Pass) last++;
            var movement = hasMovements ? timeline.PositionAt(bars[first].Start).ToString().Split('/')[0] + "/" : "";
            var run = movement + (first == last ? bars[first].Label : $"{bars[first].Label}–{bars[last].Label}");
            yield return bars[first].Pass > 1 ? $"{run} ({Ordinal(bars[first].Pass)})" : run;
            first = last + 1;
        }
    }

    /// <summary>A bar with its pass and, where there are several, its movement.</summary>
    internal static string Name(Timeline timeline, PlayedBar bar) => timeline.PositionAt(bar.Start).ToString();

    /// <summary>Where the meter changes in the score; on later passes it is not said again.</summary>
    internal static IEnumerable<string> Meters(Timeline timeline)
    {
        string? going = null;
        foreach (var bar in timeline.Bars)
        {
            if (bar.Meter.Text != going && bar.Pass == 1) yield return $"{bar.Meter} from {Name(timeline, bar)}";
            going = bar.Meter.Text;
        }
    }

    /// <summary>Where the tempo changes as played.</summary>
    internal static IEnumerable<string> Tempi(Timeline timeline)
    {
        var going = 0.0;
        foreach (var piece in timeline.Tempo.Pieces)
        {
            if (piece.From >= timeline.End) yield break;
            if (!(piece.IsConstant && piece.StartTempo == going))
                yield return string.Create(CultureInfo.InvariantCulture, $"{piece.StartTempo:0.##}{(piece.IsConstant ? "" : $" > {piece.EndTempo:0.##}")} from {timeline.PositionAt(piece.From)}");
            going = piece.EndTempo;
        }
    }

    /// <summary>A list in a line; a long one is cut, and the rest counted.</summary>
    internal static string Cut(IReadOnlyList<string> items) =>
        string.Join("  ", items.Take(MostShown)) + (items.Count > MostShown ? $"  … and {items.Count - MostShown} more (--json has them all)" : "");

    private static bool Follows(PlayedBar bar, PlayedBar next) => next.Written == bar.Written + 1 && next.Movement == bar.Movement;

    private static string Ordinal(int number)
    {
        var ending = (number % 100, number % 10) switch
        {
            (11 or 12 or 13, _) => "th",
            (_, 1) => "st",
            (_, 2) => "nd",
            (_, 3) => "rd",
            _ => "th",
        };
        return string.Create(CultureInfo.InvariantCulture, $"{number}{ending}");
    }
}
