using System.Globalization;
using System.Text;
using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>The report of a night: one self-contained HTML page; in figures on top, at a glance, the touched sources with plan and hand over the bars, and the story by bar.</summary>
public static class NightPage
{
    /// <summary>The page as text; nothing in it is fetched from elsewhere.</summary>
    /// <param name="onScore">The plan that the night is laid on.</param>
    /// <param name="night">The night.</param>
    /// <param name="recording">The mix as it was recorded in the hall; <c>null</c> where it was not.</param>
    public static string Write(PlanOnScore onScore, NightRecord night, RecordingCheck? recording = null)
    {
        var (timeline, axis) = (onScore.Timeline, new TimeAxis(onScore.Timeline));
        var touched = onScore.Plan.Sources.Where(source => NightWords.IsTouched(night, source.Name, timeline)).ToArray();
        var plotted = touched.Where(source => NightComparison.Gains(onScore, night, source.Name) is not null).ToArray();
        var page = new StringBuilder();
        PageFrame.Open(page, $"{onScore.Plan.Title}: a night");
        Head(page, onScore, night);
        page.Append("<section aria-labelledby=\"glance\"><h2 id=\"glance\">At a glance</h2>\n<div class=\"scroll\">").Append(new NightPlot(axis, timeline, night, touched).Svg()).Append("</div>\n").Append(Key).Append("</section>\n");
        foreach (var source in plotted) Article(page, axis, onScore, night, source);
        if (recording is not null) RecordingSection.Write(page, axis, recording);
        var events = NightWords.EventsOf(night, timeline).Select(told => (IReadOnlyList<string>)[told.Where, told.What]).ToArray();
        if (events.Length > 0)
        {
            page.Append("<section><h2>Feeds, clock, ticks and notes</h2>\n");
            PageFrame.Table(page, ["Where", "What"], events);
            page.Append("</section>\n");
        }
        Story(page, night);
        page.Append("<footer><p>Places are those at which the click was. Where a place was played several times, a plot shows what stood there last; the story tells all of it. A hand is drawn as the source was heard, without its link’s delay.</p></footer>\n");
        PageFrame.Close(page, new BarReadout(timeline, [("plan", "dB"), ("fader", "dB")], plotted.ToDictionary(source => source.Name, source =>
        {
            var gains = NightComparison.Gains(onScore, night, source.Name)!;
            return (IReadOnlyList<double?[]>)[.. timeline.Bars.Select(bar => bar.Start.ToDouble()).Select(at => new[] { gains.PlannedAt(at), gains.At(at) })];
        })));
        return page.ToString();
    }

    private const string Key =
        """
        <p class="key"><span><svg viewBox="0 0 34 12" class="voice"><rect class="inhand" width="34" height="12"/></svg>in hand</span>
        <span><svg viewBox="0 0 34 12" class="voice"><rect class="offsetband" width="34" height="12"/></svg>with an offset</span>
        <span><svg viewBox="0 0 34 12"><rect class="heldband" width="34" height="12"/></svg>held with all</span>
        <span><svg viewBox="0 0 34 12"><rect class="drop" width="34" height="12"/></svg>feed or clock gone</span>
        <span><svg viewBox="0 0 14 12"><path class="outside" d="M3 2l8 8m0 -8l-8 8"/></svg>a late tick</span>
        <span><svg viewBox="0 0 14 12"><path class="noteflag" d="M3 12V0l8 4l-8 4"/></svg>a note</span>
        <span><svg viewBox="0 0 14 12"><path class="trouble" d="M7 0l6 12h-12z"/></svg>trouble</span>
        <span><svg viewBox="0 0 34 12"><path class="was" d="M1 8L14 8L24 3L33 3"/></svg>the plan then in force</span>
        <span><svg viewBox="0 0 34 12"><path class="ride" d="M1 8L14 8L24 3L33 3"/></svg>where the fader was wanted</span></p>

        """;

    private static void Head(StringBuilder page, PlanOnScore onScore, NightRecord night)
    {
        var date = night.Hands.Date?.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) ?? "at a time that the log does not tell";
        page.Append($"<header>\n<p class=\"eyebrow\">{(night.Hands.IsRehearsal ? "A rehearsal" : "A performance")}, {date}{(night.Hands.Hall is { } hall ? $", {Markup.Text(hall)}" : "")}</p>\n<h1>{Markup.Text(onScore.Plan.Title)}</h1>\n<dl class=\"facts\">")
            .Append(PageFrame.Fact("Sources taken", night.Taken.Count == 0 ? "none" : $"{night.Taken.Count}, {night.Taken.Values.Sum()} times"))
            .Append(PageFrame.Fact("Feeds gone", $"{night.FeedsGone}"))
            .Append(PageFrame.Fact("Clock", night.Clock.Length > 0 ? $"{night.Clock}, held {night.ClockHeld} times" : $"held {night.ClockHeld} times"))
            .Append(PageFrame.Fact("Late ticks", NightWords.Late(night)))
            .Append(PageFrame.Fact("Desks", night.Desks.Count == 0 ? "none" : string.Join(", ", night.Desks)))
            .Append("</dl>\n");
        if (night.Notes.Count > 0) page.Append("<ul class=\"warnings\">").AppendJoin("", night.Notes.Select(note => $"<li>{Markup.Text(note)}.</li>")).Append("</ul>\n");
        page.Append("</header>\n");
    }

    private static void Article(StringBuilder page, TimeAxis axis, PlanOnScore onScore, NightRecord night, Source source)
    {
        var timeline = onScore.Timeline;
        var gains = NightComparison.Gains(onScore, night, source.Name)!;
        var of = night.Hands.Sources.First(one => one.Source == source.Name);
        var plot = new LinesPlot(axis, timeline, onScore.Plan.Limits)
        {
            Label = $"{source.Name}: the plan then in force and where its fader was wanted, over the bars",
            Role = source.Role,
            Gains = [new PlotLine("was", gains.PlannedAt) { Corners = of.Ride.Vertices.Select(vertex => vertex.At.ToDouble()) },
                new PlotLine("ride", gains.At) { Corners = of.Stretches.SelectMany(stretch => new[] { stretch.From, Math.BitDecrement(stretch.To) }) }],
            Stretches = [.. HandStretches.Of(night, source.Name, timeline)],
        };
        page.Append($"<article id=\"{Markup.Text(source.Name)}\" data-source=\"{Markup.Text(source.Name)}\">\n<h3>{RoleMark.Svg(source.Role)}{Markup.Text(source.Name)}</h3>\n<p class=\"facts-line\">strip {source.Strip} · <b>{NightWords.Touched(night, source.Name, timeline)}</b> <output class=\"readout\"></output></p>\n<div class=\"scroll\">")
            .Append(plot.Svg()).Append("</div>\n</article>\n");
    }

    private static void Story(StringBuilder page, NightRecord night)
    {
        page.Append("<section><h2>Bar by bar</h2>\n<dl class=\"story\">");
        foreach (var (bar, told) in night.Story)
            page.Append($"<dt>{(bar.Length > 0 ? $"Bar {Markup.Text(bar)}" : "Outside the piece")}</dt><dd>{string.Join("<br>", told.Select(Markup.Text))}</dd>");
        page.Append("</dl></section>\n");
    }
}
