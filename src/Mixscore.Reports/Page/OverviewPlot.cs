using System.Text;

namespace Mixscore.Reports;

/// <summary>The whole piece at a glance: a lane a source, as tall as it is heard, and who leads.</summary>
internal sealed class OverviewPlot(TimeAxis axis, CheckResult result)
{
    private const double Top = 24;
    private const double Lane = 30;

    /// <summary>The softest level that a lane shows, in LU over the reference.</summary>
    private const double Softest = -36;

    internal string Svg()
    {
        var bottom = Top + Lane * result.Sources.Count + (result.Clarity.Count > 0 ? ClarityPlot.Height : 0);
        var svg = new StringBuilder();
        svg.Append($"<svg viewBox=\"0 0 {Markup.N(TimeAxis.FullWidth)} {Markup.N(bottom + 22)}\" class=\"plot overview\" role=\"img\" aria-label=\"Every source over the bars, as loud as it is heard\">");
        svg.Append(axis.Grid(Top, bottom));
        for (var i = 0; i < result.Sources.Count; i++) Draw(svg, result.Sources[i], Top + Lane * i);
        if (result.Clarity.Count > 0) ClarityPlot.Draw(svg, axis, result, bottom - ClarityPlot.Height);
        return svg.Append("</svg>").ToString();
    }

    private void Draw(StringBuilder svg, CheckedSource source, double top)
    {
        var floor = top + Lane - 3;
        svg.Append($"<g class=\"{RoleMark.Class(source.Source.Role)}\"><line class=\"rule\" x1=\"{Markup.N(TimeAxis.Left)}\" x2=\"{Markup.N(TimeAxis.Right)}\" y1=\"{Markup.N(floor)}\" y2=\"{Markup.N(floor)}\"/>");
        var lane = new List<(double, double?, double?)>();
        foreach (var time in axis.Times)
        {
            var hop = source.Trace.HopAt(time);
            var heard = hop < source.Trace.Active.Count && source.Trace.Active[hop] ? source.Trace.Heard[hop] : null;
            lane.Add((axis.X(time), heard is null ? null : floor, heard is { } level ? floor - (Lane - 5) * Math.Clamp((level - Softest) / -Softest, 0, 1.1) : null));
        }
        svg.Append($"<path class=\"lane\" d=\"{Markup.Area(lane)}\"/>");
        foreach (var bar in source.Bars.Where(bar => bar.Within == false))
            svg.Append($"<path class=\"outside\" d=\"M{Markup.N((axis.X(bar.Bar.Start) + axis.X(bar.Bar.End)) / 2 - 3)} {Markup.N(top + 3)}l6 6m0 -6l-6 6\"/>");
        svg.Append($"<text class=\"lanename\" x=\"{Markup.N(TimeAxis.Left + 4)}\" y=\"{Markup.N(top + 11)}\">{Markup.Text(source.Source.Name)}</text></g>");
    }
}
