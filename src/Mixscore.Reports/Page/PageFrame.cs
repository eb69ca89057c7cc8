using System.Text;

namespace Mixscore.Reports;

/// <summary>What every report has around it: one self-contained HTML page, light, dark and on paper; nothing in it is fetched from elsewhere.</summary>
internal static class PageFrame
{
    internal static void Open(StringBuilder page, string title) => page
        .Append("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
        .Append($"<title>{Markup.Text(title)}</title>\n<style>\n{Resource("report.css")}</style>\n</head>\n<body>\n");

    internal static void Close(StringBuilder page, BarReadout readout) => page
        .Append($"<script type=\"application/json\" id=\"bars\">{readout.Json}</script>\n<script>\n{Resource("report.js")}</script>\n</body>\n</html>\n");

    internal static string Fact(string name, string value) => $"<div><dt>{Markup.Text(name)}</dt><dd>{Markup.Text(value.Replace('-', '−'))}</dd></div>";

    /// <summary>A table of words: the first column names the row.</summary>
    internal static void Table(StringBuilder page, IReadOnlyList<string> head, IEnumerable<IReadOnlyList<string>> rows)
    {
        page.Append("<div class=\"scroll\"><table class=\"words\"><thead><tr>");
        foreach (var name in head) page.Append($"<th>{Markup.Text(name)}</th>");
        page.Append("</tr></thead><tbody>");
        foreach (var row in rows)
        {
            page.Append("<tr>");
            for (var i = 0; i < row.Count; i++) page.Append(i == 0 ? $"<th>{Markup.Text(row[i])}</th>" : $"<td>{Markup.Text(row[i])}</td>");
            page.Append("</tr>");
        }
        page.Append("</tbody></table></div>\n");
    }

    private static string Resource(string name)
    {
        using var stream = typeof(PageFrame).Assembly.GetManifestResourceStream("Mixscore.Reports.Page." + name)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
