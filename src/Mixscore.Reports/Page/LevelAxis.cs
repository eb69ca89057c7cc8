using System.Text;

namespace Mixscore.Reports;

/// <summary>The vertical axis of a panel of levels, in LU over the reference, with a rule every 6 LU.</summary>
internal sealed class LevelAxis((double Low, double High) range, double top, double bottom)
{
    /// <summary>The lowest level that is shown.</summary>
    internal double Low => range.Low;

    /// <summary>What shows all of some levels: whole sixths, and 0 LU among them.</summary>
    internal static (double Low, double High) Around(double lowest, double highest) =>
        (6 * Math.Floor(Math.Min(lowest, -12) / 6), 6 * Math.Ceiling(Math.Max(highest, 0.1) / 6));

    internal double Y(double level) => bottom - (bottom - top) * (Math.Clamp(level, range.Low, range.High) - range.Low) / (range.High - range.Low);

    internal void Draw(StringBuilder svg)
    {
        svg.Append($"<text class=\"unit\" x=\"8\" y=\"{Markup.N(top + 4)}\">LU</text>");
        for (var level = range.Low; level <= range.High; level += 6)
        {
            var y = Y(level);
            svg.Append($"<line class=\"{(level == 0 ? "zero" : "rule")}\" x1=\"{Markup.N(TimeAxis.Left)}\" x2=\"{Markup.N(TimeAxis.Right)}\" y1=\"{Markup.N(y)}\" y2=\"{Markup.N(y)}\"/>");
            if (level % 12 == 0) svg.Append($"<text class=\"scale\" x=\"{Markup.N(TimeAxis.Left - 6)}\" y=\"{Markup.N(y + 4)}\">{(level > 0 ? "+" : "")}{Markup.N(level).Replace('-', '−')}</text>");
        }
    }
}
