using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>The report of two versions of a plan: one self-contained HTML page, in words on top, then the sources that differ over the bars.</summary>
public static class PlanComparePage
{
    /// <summary>The page as text; nothing in it is fetched from elsewhere.</summary>
    /// <param name="comparison">How they differ.</param>
    /// <param name="names">How the two are called.</param>
    /// <param name="notes">What to know beside it, a sentence each.</param>
    public static string Write(PlanComparison comparison, (string Before, string After) names, IReadOnlyList<string> notes)
    {
        var (after, timeline) = (comparison.After, comparison.After.Timeline);
        var page = new StringBuilder();
        PageFrame.Open(page, $"{after.Plan.Title}: two versions of the plan");
        page.Append($"<header>\n<p class=\"eyebrow\">{Markup.Text(names.Before)} against {Markup.Text(names.After)}</p>\n<h1>{Markup.Text(after.Plan.Title)}</h1>\n<div class=\"verdict\"><strong>{(comparison.IsSame ? "Nothing differs" : "What differs")}</strong><ul>");
        foreach (var sentence in PlanWords.Summary(comparison).Concat(notes)) page.Append($"<li>{Markup.Text(sentence)}</li>");
        page.Append("</ul></div>\n</header>\n");
        Section(page, "Said once", PlanWords.Settings(comparison));
        if (Touched(comparison) is { Count: > 0 } touched)
        {
            page.Append(Key);
            foreach (var source in touched) Article(page, comparison, source);
        }
        Section(page, "Marks as they are written", PlanWords.Marks(comparison));
        page.Append("<footer><p>Places are those of the later version. Levels are as they are written, in LU over the reference; a source’s offset raises all of them and is told above. A level that leans on other sources has no line of its own. Rides are those that the fit makes of each version, with the stems as they are now.</p></footer>\n");
        PageFrame.Close(page, Readout(comparison, touched: Touched(comparison), timeline));
        return page.ToString();
    }

    private const string Key =
        """
        <p class="key"><span><svg viewBox="0 0 34 12"><path class="was" d="M1 8L14 8L24 3L33 3"/></svg>the earlier version</span>
        <span><svg viewBox="0 0 34 12"><path class="ride" d="M1 8L14 8L24 3L33 3"/></svg>the later one</span>
        <span><svg viewBox="0 0 34 12"><rect class="apart" width="34" height="12"/></svg>where they differ</span></p>

        """;

    private static IReadOnlyList<Source> Touched(PlanComparison comparison) =>
        [.. comparison.After.Plan.Sources.Where(source => comparison.Levels.Any(change => change.Source == source.Name) || comparison.Rides?.Any(change => change.Source == source.Name) == true)];

    private static void Section(StringBuilder page, string title, WordTable table)
    {
        if (table.Rows.Count == 0) return;
        page.Append($"<section><h2>{title}</h2>\n");
        PageFrame.Table(page, table.Head, table.Rows);
        page.Append("</section>\n");
    }

    private static void Article(StringBuilder page, PlanComparison comparison, Source source)
    {
        var levels = PlanWords.Levels(comparison with { Levels = [.. comparison.Levels.Where(change => change.Source == source.Name)] });
        var gains = PlanWords.Gains([.. (comparison.Rides ?? []).Where(change => change.Source == source.Name)]);
        page.Append($"<article id=\"{Markup.Text(source.Name)}\" data-source=\"{Markup.Text(source.Name)}\">\n<h3>{RoleMark.Svg(source.Role)}{Markup.Text(source.Name)} <output class=\"readout\"></output></h3>\n<div class=\"scroll\">")
            .Append(Plot(comparison, source)).Append("</div>\n");
        if (levels.Rows.Count > 0)
        {
            page.Append("<p class=\"facts-line\">What its marks ask:</p>");
            PageFrame.Table(page, [.. levels.Head.Skip(1)], levels.Rows.Select(row => (IReadOnlyList<string>)[.. row.Skip(1)]));
        }
        if (gains.Rows.Count > 0)
        {
            page.Append("<p class=\"facts-line\">Its fader:</p>");
            PageFrame.Table(page, [.. gains.Head.Skip(1)], gains.Rows.Select(row => (IReadOnlyList<string>)[.. row.Skip(1)]));
        }
        page.Append("</article>\n");
    }

    private static string Plot(PlanComparison comparison, Source source)
    {
        var timeline = comparison.After.Timeline;
        var (was, becomes) = Levels(comparison, source.Name);
        return new LinesPlot(new TimeAxis(timeline), timeline, comparison.After.Plan.Limits)
        {
            Label = $"{source.Name}: what its marks ask and its ride, in both versions, over the bars",
            Role = source.Role,
            Levels = [new PlotLine("was", was), new PlotLine("heard", becomes)],
            Gains = comparison.RidesOf.TryGetValue(source.Name, out var rides)
                ? [new PlotLine("was", Before(comparison, rides.Before)), new PlotLine("ride", at => rides.After.At(at)?.Value) { Corners = rides.After.Vertices.Select(vertex => vertex.At.ToDouble()) }] : [],
            Stretches = [.. comparison.Levels.Where(change => change.Source == source.Name).Select(change => Stretch(change.Stretch, $"{change.Was} becomes {change.Becomes}")),
                .. (comparison.Rides ?? []).Where(change => change.Source == source.Name).Select(change => Stretch(change.Stretch, $"its fader {PlaceWords.Signed(change.By, "dB")}"))],
        }.Svg();
    }

    private static PlotStretch Stretch(ComparedStretch stretch, string words) => new("apart", stretch.Start.ToDouble(), stretch.End.ToDouble(), $"{stretch.From} to {stretch.To}: {words}");

    private static Func<double, double?> Before(PlanComparison comparison, Ride ride) => at => comparison.InBefore(at) is { } before ? ride.At(before)?.Value : null;

    private static (Func<double, double?> Was, Func<double, double?> Becomes) Levels(PlanComparison comparison, string source)
    {
        var (before, after) = (comparison.Before[source], comparison.After[source]);
        return (at => comparison.InBefore(at) is { } place ? Written(before, place) : null, at => Written(after, at));
    }

    private static double? Written(PlannedSource source, double quarters) =>
        (source.Levels.LevelAt(quarters, (_, _) => null) - source.Source.Offset - source.Source.HallOffset)?.Value;

    private static BarReadout Readout(PlanComparison comparison, IReadOnlyList<Source> touched, Timeline timeline) => new(timeline, [("was", "LU"), ("becomes", "LU"), ("ride was", "dB"), ("becomes", "dB")],
        touched.ToDictionary(source => source.Name, source =>
        {
            var (was, becomes) = Levels(comparison, source.Name);
            var isKnown = comparison.RidesOf.TryGetValue(source.Name, out var rides);
            return (IReadOnlyList<double?[]>)[.. timeline.Bars.Select(bar => bar.Start.ToDouble()).Select(at => new[] { was(at), becomes(at), isKnown ? Before(comparison, rides.Before)(at) : null, isKnown ? rides.After.At(at)?.Value : null })];
        }));
}
