using System.Text;
using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>The report of two nights: one self-contained HTML page, in words on top, then the sources that stood elsewhere over the bars.</summary>
public static class NightComparePage
{
    /// <summary>The page as text; nothing in it is fetched from elsewhere.</summary>
    public static string Write(NightComparison comparison)
    {
        var (onScore, timeline) = (comparison.OnScore, comparison.OnScore.Timeline);
        var touched = onScore.Plan.Sources.Where(source => comparison.Hands.Any(one => one.Gains.Source == source.Name) || comparison.Plans.Any(one => one.Source == source.Name)).ToArray();
        var page = new StringBuilder();
        PageFrame.Open(page, $"{onScore.Plan.Title}: two nights");
        page.Append($"<header>\n<p class=\"eyebrow\">{Markup.Text(comparison.Before.Name)} against {Markup.Text(comparison.After.Name)}</p>\n<h1>{Markup.Text(onScore.Plan.Title)}</h1>\n<div class=\"verdict\"><strong>Two nights</strong><ul>");
        foreach (var sentence in NightWords.Summary(comparison).Concat(Notes(comparison.Before)).Concat(Notes(comparison.After))) page.Append($"<li>{Markup.Text(sentence)}</li>");
        page.Append("</ul></div>\n</header>\n");
        Section(page, "Side by side", NightWords.Figures(comparison));
        if (touched.Length > 0) page.Append(Key);
        foreach (var source in touched) Article(page, comparison, source);
        Section(page, "Feeds, clock, ticks and notes", NightWords.Events(comparison));
        page.Append("<footer><p>Compared is what both nights played; where a place was played several times, what stood there last. Differences shorter than a beat are of the hands’ own times and are left out.</p></footer>\n");
        PageFrame.Close(page, new BarReadout(timeline, [("first night", "dB"), ("second night", "dB")], touched.ToDictionary(source => source.Name, source =>
        {
            var (was, now) = Gains(comparison, source.Name);
            return (IReadOnlyList<double?[]>)[.. timeline.Bars.Select(bar => bar.Start.ToDouble()).Select(at => new[] { was.At(at), now.At(at) })];
        })));
        return page.ToString();
    }

    private const string Key =
        """
        <p class="key"><span><svg viewBox="0 0 34 12"><path class="was" d="M1 8L14 8L24 3L33 3"/></svg>the first night</span>
        <span><svg viewBox="0 0 34 12"><path class="ride" d="M1 8L14 8L24 3L33 3"/></svg>the second</span>
        <span><svg viewBox="0 0 34 12"><rect class="apart" width="34" height="12"/></svg>where they differ</span></p>

        """;

    private static IEnumerable<string> Notes(NightRecord night) => night.Notes.Select(note => $"{night.Name}: {note}.");

    private static void Section(StringBuilder page, string title, WordTable table)
    {
        if (table.Rows.Count == 0) return;
        page.Append($"<section><h2>{title}</h2>\n");
        PageFrame.Table(page, table.Head, table.Rows);
        page.Append("</section>\n");
    }

    private static (NightGains Before, NightGains After) Gains(NightComparison comparison, string source) =>
        (NightComparison.Gains(comparison.OnScore, comparison.Before, source)!, NightComparison.Gains(comparison.OnScore, comparison.After, source)!);

    private static void Article(StringBuilder page, NightComparison comparison, Source source)
    {
        var (was, now) = Gains(comparison, source.Name);
        var plot = new LinesPlot(new TimeAxis(comparison.OnScore.Timeline), comparison.OnScore.Timeline, comparison.OnScore.Plan.Limits)
        {
            Label = $"{source.Name}: where its fader was wanted in both nights, over the bars",
            Role = source.Role,
            Gains = [new PlotLine("was", was.At), new PlotLine("ride", now.At)],
            Stretches = [.. comparison.Hands.Select(one => one.Gains).Concat(comparison.Plans).Where(change => change.Source == source.Name).Select(change => new PlotStretch("apart", change.Stretch.Start.ToDouble(), change.Stretch.End.ToDouble(), $"{change.Stretch.From} to {change.Stretch.To}: {PlaceWords.Signed(change.By, "dB")}"))],
        };
        page.Append($"<article id=\"{Markup.Text(source.Name)}\" data-source=\"{Markup.Text(source.Name)}\">\n<h3>{RoleMark.Svg(source.Role)}{Markup.Text(source.Name)} <output class=\"readout\"></output></h3>\n<div class=\"scroll\">").Append(plot.Svg()).Append("</div>\n");
        Told(page, "By hand:", NightWords.Hands(comparison with { Hands = [.. comparison.Hands.Where(one => one.Gains.Source == source.Name)] }));
        Told(page, "In the plans then in force:", PlanWords.Gains([.. comparison.Plans.Where(change => change.Source == source.Name)]));
        page.Append("</article>\n");
    }

    private static void Told(StringBuilder page, string title, WordTable table)
    {
        if (table.Rows.Count == 0) return;
        page.Append($"<p class=\"facts-line\">{title}</p>");
        PageFrame.Table(page, [.. table.Head.Skip(1)], table.Rows.Select(row => (IReadOnlyList<string>)[.. row.Skip(1)]));
    }
}
