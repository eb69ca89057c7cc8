using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>A night at a glance: a lane for each source that was touched, and one for the run itself, over the bars.</summary>
internal sealed class NightPlot(TimeAxis axis, Timeline timeline, NightRecord night, IReadOnlyList<Source> touched)
{
    private const double Top = 24;
    private const double Lane = 24;

    internal string Svg()
    {
        var bottom = Top + Lane * (touched.Count + 1);
        var svg = new StringBuilder();
        svg.Append($"<svg viewBox=\"0 0 {Markup.N(TimeAxis.FullWidth)} {Markup.N(bottom + 22)}\" class=\"plot overview\" role=\"img\" aria-label=\"What happened over the bars: hands and offsets a lane a source, then clock, ticks and notes\">")
            .Append(axis.Grid(Top, bottom));
        for (var i = 0; i < touched.Count; i++)
        {
            svg.Append($"<g class=\"{RoleMark.Class(touched[i].Role)}\">");
            foreach (var stretch in HandStretches.Of(night, touched[i].Name, timeline)) svg.Append(LinesPlot.Rectangle(axis, stretch, Top + Lane * i + 3, Top + Lane * (i + 1) - 3));
            Name(svg, touched[i].Name, Top + Lane * i);
            svg.Append("</g>");
        }
        Run(svg, Top + Lane * touched.Count);
        return svg.Append("</svg>").ToString();
    }

    private void Run(StringBuilder svg, double top)
    {
        foreach (var one in night.Events.Where(one => one.Source is null))
        {
            var (x, title) = (axis.At(one.From), $"<title>{Markup.Text($"{PlaceWords.Beat(timeline, one.From)}: {one.Text}")}</title>");
            svg.Append(one.Kind switch
            {
                NightEventKind.ClockGone => LinesPlot.Rectangle(axis, new PlotStretch("drop", one.From, one.To, one.Text), top + 3, top + Lane - 3),
                NightEventKind.Note => $"<path class=\"noteflag\" d=\"M{Markup.N(x)} {Markup.N(top + Lane - 3)}V{Markup.N(top + 4)}l8 4l-8 4\">{title}</path>",
                NightEventKind.LateTick => $"<path class=\"outside\" d=\"M{Markup.N(x - 3)} {Markup.N(top + 9)}l6 6m0 -6l-6 6\">{title}</path>",
                _ => $"<path class=\"trouble\" d=\"M{Markup.N(x)} {Markup.N(top + 5)}l6 12h-12z\">{title}</path>",
            });
        }
        Name(svg, "the run", top);
    }

    private static void Name(StringBuilder svg, string name, double top) =>
        svg.Append($"<text class=\"lanename\" x=\"{Markup.N(TimeAxis.Left + 4)}\" y=\"{Markup.N(top + 15)}\">{Markup.Text(name)}</text>");
}
