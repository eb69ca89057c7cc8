using System.Globalization;
using System.Text;

namespace Mixscore.Reports;

/// <summary>The report of a check: one self-contained HTML page, the verdict on top in words, then the sources over the bars.</summary>
public static class ReportPage
{
    /// <summary>The page as text; nothing in it is fetched from elsewhere.</summary>
    public static string Write(ReportInput input)
    {
        var axis = new TimeAxis(input.Timeline);
        var page = new StringBuilder();
        PageFrame.Open(page, $"{input.Plan.Title}: the mix, checked");
        Head(page, input);
        page.Append("<section aria-labelledby=\"whole\"><h2 id=\"whole\">The whole piece</h2>\n<p class=\"how\">A lane a source, as tall as it is heard; a cross where a bar lies outside its level. Below, how far the lead stands over everything else, a bar a bar: up and solid over it, down and hatched under it.</p>\n<div class=\"scroll\">")
            .Append(new OverviewPlot(axis, input.Result).Svg()).Append("</div></section>\n");
        if (input.Result.Recording is { } recording) RecordingSection.Write(page, axis, recording);
        Key(page);
        foreach (var site in input.Result.Sources.GroupBy(source => source.Source.Site))
        {
            page.Append(CultureInfo.InvariantCulture, $"<section class=\"site\"><h2>{Markup.Text(site.Key.Name)} <small>heard {site.Key.Link.Delay.Value * 1000:0} ms after the click</small></h2>\n");
            foreach (var source in site) Source(page, input, axis, source);
            page.Append("</section>\n");
        }
        Alignment(page, input);
        Warnings(page, input);
        Exposure(page, input.Result.Exposure);
        Cautions(page);
        PageFrame.Close(page, Readout(input));
        return page.ToString();
    }

    private static void Head(StringBuilder page, ReportInput input)
    {
        var (plan, result) = (input.Plan, input.Result);
        var minutes = TimeSpan.FromSeconds(input.Timeline.Duration.Value);
        page.Append($"<header>\n<p class=\"eyebrow\">The mix, checked against its marks</p>\n<h1>{Markup.Text(plan.Title)}</h1>\n")
            .Append($"<div class=\"verdict {(result.IsGood ? "good" : "short")}\"><strong>{(result.IsGood ? "✓ Good" : "✗ Falls short")}</strong><ul>");
        foreach (var reason in result.Because) page.Append($"<li>{Markup.Text(reason)}</li>");
        page.Append("</ul></div>\n<dl class=\"facts\">")
            .Append(PageFrame.Fact("Integrated", result.Mix.Integrated?.ToString() ?? "not measurable"))
            .Append(PageFrame.Fact("Range", result.Mix.Range is { } range ? range.ToString().Replace("dB", "LU") : "not measurable"))
            .Append(PageFrame.Fact("True peak", result.Mix.TruePeak is { } peak ? peak.ToString().Replace("dB", "dBTP") : "silent"))
            .Append(PageFrame.Fact("Limit", result.Mix.TruePeakLimit.ToString().Replace("dB", "dBTP")))
            .Append(PageFrame.Fact("0 LU is", plan.Reference.ToString()))
            .Append(PageFrame.Fact("Lasts", string.Create(CultureInfo.InvariantCulture, $"{(int)minutes.TotalMinutes}:{minutes.Seconds:00}, {input.Timeline.Bars.Count} bars played")))
            .Append("</dl>\n</header>\n");
    }

    private static void Key(StringBuilder page) => page.Append(
        """
        <p class="key"><span><svg viewBox="0 0 34 12"><rect class="band" width="34" height="12"/></svg>the band that the marks allow</span>
        <span><svg viewBox="0 0 34 12"><path class="heard" d="M1 8Q12 1 33 5"/></svg>what is heard</span>
        <span><svg viewBox="0 0 34 12"><path class="stem" d="M1 8Q12 1 33 5"/></svg>the stem as it arrives</span>
        <span><svg viewBox="0 0 34 12"><path class="ride" d="M1 9L14 9L24 3L33 3"/><circle class="vertex" cx="14" cy="9" r="2.6"/><circle class="vertex" cx="24" cy="3" r="2.6"/></svg>the ride and its vertices (dB)</span>
        <span><svg viewBox="0 0 34 12"><rect class="drop" width="34" height="12"/></svg>dropout of the link</span>
        <span><svg viewBox="0 0 34 12"><rect class="burst" x="1" y="1" width="32" height="10"/></svg>noise of the link</span>
        <span><svg viewBox="0 0 34 12"><rect class="widened" width="34" height="12"/></svg>nothing obeys: widened</span>
        <span><svg viewBox="0 0 34 12"><path class="pinned" d="M2 6L32 6"/><path class="pin" d="M2 1v10M32 1v10"/></svg>pinned by hand</span>
        <span><svg viewBox="0 0 14 12"><path class="outside" d="M3 2l8 8m0 -8l-8 8"/></svg>a bar outside its level</span></p>

        """);

    private static void Source(StringBuilder page, ReportInput input, TimeAxis axis, CheckedSource source)
    {
        var share = source.BeatsActive == 0 ? "never plays" : string.Create(CultureInfo.InvariantCulture, $"{source.BeatsWithin} of {source.BeatsActive} beats within ({100.0 * source.BeatsWithin / source.BeatsActive:0.0} %)");
        page.Append(CultureInfo.InvariantCulture, $"<article id=\"{Markup.Text(source.Source.Name)}\" data-source=\"{Markup.Text(source.Source.Name)}\">\n<h3>{RoleMark.Svg(source.Source.Role)}{Markup.Text(source.Source.Name)}</h3>\n")
            .Append(CultureInfo.InvariantCulture, $"<p class=\"facts-line\">strip {source.Source.Strip} · within {source.Source.Within.Value:0.#} LU · stem {Markup.Text(source.StemIntegrated?.ToString().Replace('-', '−') ?? "not measurable")} · {source.Ride.Vertices.Count} vertices · <b>{share}</b> <output class=\"readout\"></output></p>\n")
            .Append("<div class=\"scroll\">").Append(new LevelPlot(axis, input.Timeline, input.Plan, source).Svg()).Append("</div>\n");
        foreach (var widened in source.Widened) page.Append($"<p class=\"note\">{Markup.Text(widened.Because)}</p>\n");
        page.Append("<details><summary>Bar by bar</summary><div class=\"scroll\"><table><thead><tr><th>Bar</th><th>Asked, LU</th><th>Heard, LU</th><th>Difference</th><th></th></tr></thead><tbody>");
        foreach (var bar in source.Bars.Where(bar => bar.Target is not null))
            page.Append($"<tr{(bar.Within == false ? " class=\"is-outside\"" : "")}><th>{Markup.Text(bar.Bar.ToString())}</th><td>{Markup.Signed(bar.Target?.Value)}</td><td>{Markup.Signed(bar.Heard?.Value)}</td><td>{Markup.Signed((bar.Heard - bar.Target)?.Value)}</td><td>{(bar.Within == false ? "outside" : "within")}</td></tr>");
        page.Append("</tbody></table></div></details>\n</article>\n");
    }

    private static void Alignment(StringBuilder page, ReportInput input)
    {
        var latest = input.Plan.Sites.Select(site => site.Link.Delay.Value).DefaultIfEmpty(0).Max();
        page.Append("<section><h2>Lining the sites up</h2>\n<p class=\"how\">A source is heard its link’s delay after the click, and its ride moves with its sound. These delays on the strips make all sites sound together, with the latest of them.</p>\n<table class=\"small\"><thead><tr><th>Site</th><th>Link</th><th>Delay to add</th><th>Strips</th></tr></thead><tbody>");
        foreach (var site in input.Plan.Sites)
        {
            var strips = input.Plan.Sources.Where(source => source.Site.Name == site.Name).Select(source => source.Strip).Order();
            page.Append(CultureInfo.InvariantCulture, $"<tr><th>{Markup.Text(site.Name)}</th><td>{site.Link.Delay.Value * 1000:0.#} ms</td><td>{(latest - site.Link.Delay.Value) * 1000:0.#} ms</td><td>{string.Join(", ", strips)}</td></tr>");
        }
        page.Append("</tbody></table></section>\n");
    }

    private static void Warnings(StringBuilder page, ReportInput input)
    {
        if (input.Warnings.Count == 0) return;
        page.Append("<section><h2>To look at</h2><ul class=\"warnings\">");
        foreach (var warning in input.Warnings) page.Append($"<li>{Markup.Text(warning)}</li>");
        page.Append("</ul></section>\n");
    }

    private static void Exposure(StringBuilder page, ExposureForecast? forecast)
    {
        page.Append("<section><h2>Exposure</h2>\n");
        if (forecast is null) page.Append("<p class=\"how\">No forecast: it needs a level measured at the listening place (<code>hall: calibration</code> in the plan).</p>\n");
        else
            page.Append(CultureInfo.InvariantCulture, $"<p class=\"how\">Forecast for the listening place, since {Markup.Text(forecast.Calibrated)}: LAeq {forecast.Equivalent:0.0} dB(A) over the piece, {forecast.Quarter:0.0} dB(A) over 15 minutes, {100 * forecast.Dose:0.0} % of a day’s dose (NIOSH 98-126: 85 dB(A) for 8 h, 3 dB exchange). {Markup.Text(ExposureForecast.Caution)}</p>\n");
        page.Append($"<p class=\"how\">{Markup.Text(ExposureForecast.Headphones)}</p></section>\n");
    }

    private static void Cautions(StringBuilder page) => page.Append(
        """
        <footer>
        <p><b>Cautions.</b> This page says what the mix measures from recorded stems; it says nothing about sound pressure in the hall. Loud sound harms ears, those of players with headphones too: measure at the listening place, and follow local law and a licensed person. Sites move: the pilot or driver of a site has the last word over its equipment.</p>
        <p>Levels are centred 3 s short-term loudness (ITU-R BS.1770-5, EBU Tech 3341) in LU over the reference. Marks go through the same window and count only where the source plays, so that a step or an entry has one slope on both sides.</p>
        </footer>

        """);

    private static BarReadout Readout(ReportInput input) => new(input.Timeline, [("asked", "LU"), ("heard", "LU"), ("ride", "dB")],
        input.Result.Sources.ToDictionary(source => source.Source.Name, source => (IReadOnlyList<double?[]>)[.. source.Bars.Select(bar => new[] { bar.Target?.Value, bar.Heard?.Value, source.Ride.At(bar.Bar.Start.ToDouble())?.Value })]));
}
