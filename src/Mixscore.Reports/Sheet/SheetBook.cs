using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace Mixscore.Reports;

/// <summary>The sheet as a PDF: a summary, pages of bars, and a page of spots that need care. Text can be selected; the font is within.</summary>
public static class SheetBook
{
    /// <summary>The bytes of the file; the same input gives the same bytes.</summary>
    /// <param name="input">What it shows.</param>
    /// <param name="paper">What it is printed on, as it is held.</param>
    /// <param name="source">The one source that is wanted; <c>null</c> for all.</param>
    /// <exception cref="ArgumentException">There is no such source.</exception>
    public static byte[] Write(SheetInput input, SheetPaper paper, string? source = null)
    {
        var rows = SheetRow.Of(input, source);
        if (rows.Count == 0) throw new ArgumentException($"there is no source {source}", nameof(source));
        var leads = new SheetLeads(input);
        SheetFrame frame;
        IReadOnlyList<SheetSystem>[] pages;
        using (var measure = Canvas.ForMeasuring())
        {
            var widest = rows.Max(row => measure.Width(row.Name, SheetFrame.Body, isBold: true)) + 26;
            frame = new SheetFrame(paper, Math.Clamp(widest, SheetFrame.LeastNames, SheetFrame.MostNames));
            pages = [.. BarPage.Paged(frame, new SystemBreaker(frame, input, rows, leads, measure).Systems())];
        }

        using var document = new PdfDocument();
        var identity = SHA256.HashData(Encoding.UTF8.GetBytes($"{input.Plan.Plan.Title}\n{input.Version}\n{source}"))[..16];
        Describe(document, input, source, identity);
        Canvas NewPage()
        {
            var page = document.AddPage();
            (page.Width, page.Height) = (XUnit.FromPoint(paper.Width), XUnit.FromPoint(paper.Height));
            return new Canvas(XGraphics.FromPdfPage(page));
        }
        Flow(flow => new SummaryPages(input, rows, flow).Summary());
        var first = document.PageCount;
        foreach (var systems in pages)
        {
            using var canvas = NewPage();
            new BarPage(frame, input, leads, source).Draw(canvas, systems);
        }
        Flow(flow => new SummaryPages(input, rows, flow).Spots());
        for (var i = 0; i < document.PageCount; i++)
        {
            using var canvas = new Canvas(XGraphics.FromPdfPage(document.Pages[i], XGraphicsPdfPageOptions.Append));
            var next = i >= first && i + 1 < first + pages.Length ? Next(pages[i - first], pages[i + 1 - first]) : "";
            Foot(canvas, frame, input, $"{i + 1} of {document.PageCount}", next);
        }
        using var stream = new MemoryStream();
        document.Save(stream, closeStream: false);
        var bytes = stream.ToArray();
        PdfIdentity.Settle(bytes, identity);
        return bytes;

        void Flow(Action<PageFlow> write)
        {
            var flow = new PageFlow(frame, NewPage);
            write(flow);
            flow.End();
        }
    }

    private static string Next(IReadOnlyList<SheetSystem> page, IReadOnlyList<SheetSystem> next)
    {
        var bar = next[0].Stretch.Bars[0];
        return page[^1].Stretch.Bars[0] == bar ? $"next: {next[0].Rows[0].Row.Name} …" : $"next: bar {bar}";
    }

    private static void Foot(Canvas canvas, SheetFrame frame, SheetInput input, string page, string next)
    {
        var y = frame.Paper.Height - SheetFrame.Margin + 2;
        canvas.Text(string.Create(CultureInfo.InvariantCulture, $"plan {input.Version} of {input.Date:yyyy-MM-dd}"), SheetFrame.Left, y, SheetFrame.Small);
        canvas.Text(page, (frame.Paper.Width - canvas.Width(page, SheetFrame.Body, isBold: true)) / 2, y, SheetFrame.Body, isBold: true);
        canvas.TextTo(next, frame.Right, y, SheetFrame.Number, isBold: true);
    }

    /// <summary>Nothing of the clock or of chance goes into the file.</summary>
    private static void Describe(PdfDocument document, SheetInput input, string? source, byte[] identity)
    {
        var day = input.Date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        (document.Info.Title, document.Info.Creator) = (source is null ? input.Plan.Plan.Title : $"{input.Plan.Plan.Title}: {source}", "Mixscore");
        (document.Info.CreationDate, document.Info.ModificationDate) = (day, day);
        var name = Encoding.Latin1.GetString(identity);
        (document.Internals.FirstDocumentID, document.Internals.SecondDocumentID) = (name, name);
    }
}
