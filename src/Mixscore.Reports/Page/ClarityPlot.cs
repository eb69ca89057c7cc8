using System.Text;
using Mixscore.Loudness;

namespace Mixscore.Reports;

/// <summary>A lane of bars' clarity: a bar up where the lead stands over everything else, hatched and down where it stands under it.</summary>
internal static class ClarityPlot
{
    internal const double Height = 46;

    /// <summary>What fills half of the lane, LU.</summary>
    private const double Most = 12;

    private const double Half = 17;

    internal static void Draw(StringBuilder svg, TimeAxis axis, CheckResult result, double top)
    {
        var zero = top + Half + 6;
        svg.Append("<defs><pattern id=\"under\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><rect class=\"underfield\" width=\"4\" height=\"4\"/><line class=\"hatch\" x1=\"0\" x2=\"0\" y1=\"0\" y2=\"4\"/></pattern></defs>")
            .Append($"<g class=\"clarity\"><line class=\"zero\" x1=\"{Markup.N(TimeAxis.Left)}\" x2=\"{Markup.N(TimeAxis.Right)}\" y1=\"{Markup.N(zero)}\" y2=\"{Markup.N(zero)}\"/>")
            .Append($"<text class=\"unit\" x=\"8\" y=\"{Markup.N(zero + 4)}\">clear, LU</text>");
        foreach (var bar in result.Clarity)
        {
            if (bar.Over is not { } over) continue;
            var height = Half * Math.Min(1, Math.Abs(over.Value) / Most);
            var (x, end) = (axis.X(bar.Bar.Start), axis.X(bar.Bar.End));
            svg.Append($"<rect class=\"{(over >= Decibels.Zero ? "over" : "under")}\" x=\"{Markup.N(x + 0.3)}\" width=\"{Markup.N(Math.Max(0.5, end - x - 0.6))}\" y=\"{Markup.N(over >= Decibels.Zero ? zero - height : zero)}\" height=\"{Markup.N(Math.Max(0.5, height))}\"><title>{Markup.Text(Words(bar))}</title></rect>");
        }
        svg.Append("</g>");
    }

    private static string Words(BarClarity bar)
    {
        var voices = string.Concat(bar.Voices.Select(voice => FormattableString.Invariant($"; {voice.Source} understood {voice.Index:0.00}")));
        return $"bar {bar.Bar}: {bar.Lead} leads, {Markup.Signed(bar.Over?.Value)} LU over everything else{voices}";
    }
}
