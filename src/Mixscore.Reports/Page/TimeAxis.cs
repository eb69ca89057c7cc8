using System.Text;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>The horizontal axis of every plot: time by the click, told in bars and letters.</summary>
internal sealed class TimeAxis(Timeline timeline)
{
    internal const double Left = 56;
    internal const double Width = 1124;
    internal const double Right = Left + Width;
    internal const double FullWidth = Right + 12;

    /// <summary>Points a curve is drawn with: about one a unit of width.</summary>
    internal const int Points = 1100;

    private readonly double _duration = Math.Max(0.001, timeline.Duration.Value);

    internal double X(Seconds time) => Left + Width * Math.Clamp(time.Value / _duration, 0, 1);

    internal double X(Quarters place) => X(timeline.Tempo.SecondsAt(place));

    internal double At(double quarters) => X(timeline.Tempo.SecondsAt(quarters));

    /// <summary>The times that a curve is drawn at.</summary>
    internal IEnumerable<Seconds> Times => Enumerable.Range(0, Points + 1).Select(i => new Seconds(_duration * i / Points));

    /// <summary>Barlines with numbers as room allows, and letters; the numbers under <paramref name="bottom"/>, letters over <paramref name="top"/>.</summary>
    internal string Grid(double top, double bottom, bool withLetters = true)
    {
        var svg = new StringBuilder();
        var every = EveryNthBar();
        var lastLabel = double.NegativeInfinity;
        foreach (var bar in timeline.Bars)
        {
            if (!IsNumbered(bar, every)) continue;
            var x = X(bar.Start);
            svg.Append($"<line class=\"barline\" x1=\"{Markup.N(x)}\" x2=\"{Markup.N(x)}\" y1=\"{Markup.N(top)}\" y2=\"{Markup.N(bottom)}\"/>");
            if (x - lastLabel < 26) continue;
            svg.Append($"<text class=\"bar\" x=\"{Markup.N(x)}\" y=\"{Markup.N(bottom + 14)}\">{Markup.Text(bar.Label)}{(bar.Pass > 1 ? $"<tspan class=\"pass\">@{bar.Pass}</tspan>" : "")}</text>");
            lastLabel = x;
        }
        if (withLetters)
            foreach (var letter in timeline.Letters)
            {
                var x = X(timeline.Bars[letter.Bar - 1].Start);
                svg.Append($"<line class=\"letterline\" x1=\"{Markup.N(x)}\" x2=\"{Markup.N(x)}\" y1=\"{Markup.N(top - 4)}\" y2=\"{Markup.N(bottom)}\"/>")
                    .Append($"<text class=\"letter\" x=\"{Markup.N(x + 3)}\" y=\"{Markup.N(top - 5)}\">{Markup.Text(letter.Name)}</text>");
            }
        return svg.ToString();
    }

    private int EveryNthBar()
    {
        foreach (var every in (int[])[1, 2, 4, 5, 10, 20, 50, 100])
            if (timeline.Bars.Count / (double)every * 30 <= Width) return every;
        return 200;
    }

    private static bool IsNumbered(PlayedBar bar, int every) =>
        bar.Index == 1 || (int.TryParse(bar.Label, out var number) ? number % every == 0 : every == 1);
}
