using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>A line of a plot.</summary>
/// <param name="Class">How it is drawn.</param>
/// <param name="At">Its value at a place in quarters; <c>null</c> lifts the pen.</param>
internal readonly record struct PlotLine(string Class, Func<double, double?> At)
{
    /// <summary>Places in quarters at which it is drawn besides those of every plot: its corners.</summary>
    internal IEnumerable<double> Corners { get; init; } = [];
}

/// <summary>A stretch behind the lines of a plot.</summary>
/// <param name="Class">How it is drawn.</param>
/// <param name="From">Where it begins, in quarters.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Title">What it is, in words.</param>
internal readonly record struct PlotStretch(string Class, double From, double To, string Title);

/// <summary>Lines of one source over the bars: of levels in LU where there are such, and below them of gains in dB.</summary>
internal sealed class LinesPlot(TimeAxis axis, Timeline timeline, Limits limits)
{
    private const double Top = 22;
    private const double Panel = 96;
    private const double Between = 20;

    internal required string Label { get; init; }

    internal required Role Role { get; init; }

    internal IReadOnlyList<PlotLine> Levels { get; init; } = [];

    internal required IReadOnlyList<PlotLine> Gains { get; init; }

    internal required IReadOnlyList<PlotStretch> Stretches { get; init; }

    internal string Svg()
    {
        var gainsTop = Levels.Count > 0 ? Top + Panel + Between : Top;
        var bottom = gainsTop + Panel;
        var svg = new StringBuilder();
        svg.Append($"<svg viewBox=\"0 0 {Markup.N(TimeAxis.FullWidth)} {Markup.N(bottom + 24)}\" class=\"plot {RoleMark.Class(Role)}\" role=\"img\" aria-label=\"{Markup.Text(Label)}\">");
        var gains = new FaderAxis(limits, gainsTop, bottom);
        gains.Draw(svg);
        foreach (var stretch in Stretches) svg.Append(Rectangle(axis, stretch, Top, bottom));
        svg.Append(axis.Grid(Top, bottom));
        if (Levels.Count > 0) DrawLevels(svg);
        foreach (var line in Gains) Draw(svg, line, gains.Y);
        svg.Append($"<line class=\"cursor\" y1=\"{Markup.N(Top)}\" y2=\"{Markup.N(bottom)}\" x1=\"-9\" x2=\"-9\"/>");
        return svg.Append("</svg>").ToString();
    }

    internal static string Rectangle(TimeAxis axis, PlotStretch stretch, double top, double bottom)
    {
        var (x, end) = (axis.At(stretch.From), axis.At(stretch.To));
        return $"<rect class=\"{stretch.Class}\" x=\"{Markup.N(x)}\" width=\"{Markup.N(Math.Max(1.5, end - x))}\" y=\"{Markup.N(top)}\" height=\"{Markup.N(bottom - top)}\"><title>{Markup.Text(stretch.Title)}</title></rect>";
    }

    private void DrawLevels(StringBuilder svg)
    {
        var values = Levels.SelectMany(line => axis.Times.Select(time => line.At(timeline.Tempo.QuartersAt(time)))).OfType<double>().DefaultIfEmpty(0).ToArray();
        var levels = new LevelAxis(LevelAxis.Around(Math.Max(-60, values.Min() - 3), values.Max()), Top, Top + Panel);
        levels.Draw(svg);
        foreach (var line in Levels) Draw(svg, line, levels.Y);
    }

    // The corners are drawn exactly; in between it is sampled, since what is straight over quarters is not over seconds.
    private void Draw(StringBuilder svg, PlotLine line, Func<double, double> y)
    {
        var places = axis.Times.Select(time => timeline.Tempo.QuartersAt(time)).Concat(line.Corners).Order();
        svg.Append($"<path class=\"{line.Class}\" d=\"{Markup.Path(places.Select(place => (axis.At(place), line.At(place) is { } value ? y(value) : (double?)null)))}\"/>");
    }
}
