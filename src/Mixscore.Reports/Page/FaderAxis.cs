using System.Text;
using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>The vertical axis of a panel of gains, in dB. The lower half of a fader's range is squeezed into a fifth of the panel, as on a fader.</summary>
internal sealed class FaderAxis(Limits limits, double top, double bottom)
{
    internal double Y(double gain)
    {
        var (low, high) = (limits.Bottom.Value, limits.Top.Value);
        var knee = (low + high) / 2;
        var part = gain >= knee ? 0.2 + 0.8 * (gain - knee) / (high - knee) : 0.2 * (gain - low) / (knee - low);
        return bottom - (bottom - top) * Math.Clamp(part, 0, 1);
    }

    internal void Draw(StringBuilder svg)
    {
        svg.Append($"<rect class=\"ridefield\" x=\"{Markup.N(TimeAxis.Left)}\" y=\"{Markup.N(top)}\" width=\"{Markup.N(TimeAxis.Width)}\" height=\"{Markup.N(bottom - top)}\"/>")
            .Append($"<text class=\"unit\" x=\"8\" y=\"{Markup.N(top + 4)}\">dB</text>");
        foreach (var gain in new[] { limits.Top.Value, 0, limits.Bottom.Value }.Distinct())
        {
            var y = Y(gain);
            svg.Append($"<line class=\"{(gain == 0 ? "zero" : "rule")}\" x1=\"{Markup.N(TimeAxis.Left)}\" x2=\"{Markup.N(TimeAxis.Right)}\" y1=\"{Markup.N(y)}\" y2=\"{Markup.N(y)}\"/>")
                .Append($"<text class=\"scale\" x=\"{Markup.N(TimeAxis.Left - 6)}\" y=\"{Markup.N(y + 4)}\">{(gain > 0 ? "+" : "")}{Markup.N(gain).Replace('-', '−')}</text>");
        }
    }
}
