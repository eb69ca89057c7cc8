using PdfSharp.Drawing;

namespace Mixscore.Reports;

/// <summary>Black on white, and one grey: what a page is drawn with. Points, from the top left.</summary>
internal sealed class Canvas(XGraphics graphics) : IDisposable
{
    private static readonly XBrush Grey = new XSolidBrush(XColor.FromGrayScale(0.80));

    public void Dispose() => graphics.Dispose();

    /// <summary>Something to measure texts with before there is a page.</summary>
    internal static Canvas ForMeasuring() => new(XGraphics.CreateMeasureContext(new XSize(2000, 2000), XGraphicsUnit.Point, XPageDirection.Downwards));

    internal double Width(string text, double size, bool isBold = false) => text.Length == 0 ? 0 : graphics.MeasureString(text, SheetFonts.Of(size, isBold)).Width;

    /// <summary>A text with its baseline at a height, from the left.</summary>
    internal void Text(string text, double x, double y, double size, bool isBold = false, bool isWhite = false) =>
        graphics.DrawString(text, SheetFonts.Of(size, isBold), isWhite ? XBrushes.White : XBrushes.Black, x, y);

    /// <summary>A text that ends at a place.</summary>
    internal void TextTo(string text, double right, double y, double size, bool isBold = false) => Text(text, right - Width(text, size, isBold), y, size, isBold);

    /// <summary>As much of a text as there is room for; what is cut ends in an ellipsis.</summary>
    internal string Cut(string text, double room, double size, bool isBold = false)
    {
        if (Width(text, size, isBold) <= room) return text;
        var length = text.Length;
        while (length > 1 && Width(text[..length] + "…", size, isBold) > room) length--;
        return text[..length] + "…";
    }

    /// <summary>A text in lines that are no wider than there is room; a word that is wider stands alone.</summary>
    internal IReadOnlyList<string> Wrapped(string text, double room, double size, bool isBold = false)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (line.Length > 0 && Width(longer, size, isBold) > room)
            {
                lines.Add(line);
                line = word;
            }
            else line = longer;
        }
        if (line.Length > 0) lines.Add(line);
        return lines;
    }

    internal void Line(double x1, double y1, double x2, double y2, double width, bool isDashed = false)
    {
        var pen = new XPen(XColors.Black, width);
        if (isDashed) pen.DashStyle = XDashStyle.Dash;
        graphics.DrawLine(pen, x1, y1, x2, y2);
    }

    internal void Curve(IReadOnlyList<(double X, double Y)> points, double width)
    {
        if (points.Count < 2) return;
        graphics.DrawLines(new XPen(XColors.Black, width) { LineJoin = XLineJoin.Round }, [.. points.Select(point => new XPoint(point.X, point.Y))]);
    }

    /// <summary>Grey between a curve and a height.</summary>
    internal void Area(IReadOnlyList<(double X, double Y)> points, double bottom)
    {
        if (points.Count < 2) return;
        graphics.DrawPolygon(Grey, [new XPoint(points[0].X, bottom), .. points.Select(point => new XPoint(point.X, point.Y)), new XPoint(points[^1].X, bottom)], XFillMode.Winding);
    }

    internal void Fill(double x, double y, double width, double height) => graphics.DrawRectangle(XBrushes.Black, x, y, width, height);

    internal void FillGrey(double x, double y, double width, double height) => graphics.DrawRectangle(Grey, x, y, width, height);

    internal void Box(double x, double y, double width, double height, double line) => graphics.DrawRectangle(new XPen(XColors.Black, line), x, y, width, height);

    internal void Dot(double x, double y, double radius) => graphics.DrawEllipse(XBrushes.Black, x - radius, y - radius, 2 * radius, 2 * radius);
}
