using System.Text;
using Mixscore.Loudness;

namespace Mixscore.Reports;

/// <summary>The part of a check's report that is about a recording of the mix.</summary>
internal static class RecordingSection
{
    private const double Top = 22;
    private const double Bottom = 142;

    internal static void Write(StringBuilder page, TimeAxis axis, RecordingCheck recording)
    {
        page.Append($"<section aria-labelledby=\"recorded\"><h2 id=\"recorded\">The recording <small>{Markup.Text(recording.File)}</small></h2>\n<ul>");
        foreach (var sentence in recording.Words) page.Append($"<li>{Markup.Text(sentence)}</li>");
        page.Append($"</ul>\n<p class=\"how\">{Markup.Text(RecordingCheck.Limits)}</p>\n<div class=\"scroll\">").Append(Svg(axis, recording)).Append("</div>\n")
            .Append("""
                <p class="key"><span><svg viewBox="0 0 34 12"><rect class="band" width="34" height="12"/></svg>what the marks allow in sum</span>
                <span><svg viewBox="0 0 34 12"><path class="ride" d="M1 8L33 5"/></svg>the recording, its gain taken out</span>
                <span><svg viewBox="0 0 34 12"><path class="was" d="M1 8L33 5"/></svg>the mix as rendered from the stems</span>
                <span><svg viewBox="0 0 14 12"><path class="outside" d="M3 2l8 8m0 -8l-8 8"/></svg>a bar outside</span></p>

                """);
        page.Append("<details><summary>Bar by bar</summary>\n");
        PageFrame.Table(page, ["Bar", "Asked in sum, LU", "From", "To", "Rendered", "Recorded", ""], recording.Bars.Where(bar => bar.Asked is not null).Select(bar => (IReadOnlyList<string>)
            [$"{bar.Bar}", Markup.Signed(bar.Asked?.Value), Markup.Signed(bar.Low?.Value), Markup.Signed(bar.High?.Value), Markup.Signed(bar.Rendered?.Value), Markup.Signed(bar.Recorded?.Value), bar.Within == false ? "outside" : "within"]));
        page.Append("</details></section>\n");
    }

    private static string Svg(TimeAxis axis, RecordingCheck recording)
    {
        var levels = recording.Bars.SelectMany(bar => new[] { bar.Low, bar.High, bar.Rendered, bar.Recorded }).OfType<Decibels>().Select(level => level.Value).DefaultIfEmpty(0).ToArray();
        var scale = new LevelAxis(LevelAxis.Around(Math.Max(-60, levels.Min()), levels.Max()), Top, Bottom);
        var svg = new StringBuilder();
        svg.Append($"<svg viewBox=\"0 0 {Markup.N(TimeAxis.FullWidth)} {Markup.N(Bottom + 24)}\" class=\"plot\" role=\"img\" aria-label=\"The recording against what the marks allow in sum, bar by bar\">").Append(axis.Grid(Top, Bottom));
        scale.Draw(svg);
        svg.Append($"<path class=\"band\" d=\"{Markup.Area([.. Steps(bar => (bar.Low, bar.High)).Select(step => (step.X, Y(step.Value.Item1), Y(step.Value.Item2)))])}\"/>")
            .Append($"<path class=\"was\" d=\"{Markup.Path(Steps(bar => bar.Rendered).Select(step => (step.X, Y(step.Value))))}\"/>")
            .Append($"<path class=\"ride\" d=\"{Markup.Path(Steps(bar => bar.Recorded).Select(step => (step.X, Y(step.Value))))}\"/>");
        foreach (var bar in recording.Bars.Where(bar => bar.Within == false))
            svg.Append($"<path class=\"outside\" d=\"M{Markup.N((axis.X(bar.Bar.Start) + axis.X(bar.Bar.End)) / 2 - 4)} {Markup.N(Top + 3)}l8 8m0 -8l-8 8\"><title>bar {Markup.Text(bar.Bar.ToString())}: asked {Markup.Signed(bar.Asked?.Value)}, recorded {Markup.Signed(bar.Recorded?.Value)} LU</title></path>");
        return svg.Append("</svg>").ToString();

        double? Y(Decibels? level) => level is { } value ? scale.Y(value.Value) : null;

        IEnumerable<(double X, T Value)> Steps<T>(Func<RecordedBar, T> value) =>
            recording.Bars.SelectMany(bar => new[] { (axis.X(bar.Bar.Start), value(bar)), (axis.X(bar.Bar.End), value(bar)) });
    }
}
