namespace Mixscore.Reports;

/// <summary>Lines and tables down a page and on to the next.</summary>
internal sealed class PageFlow(SheetFrame frame, Func<Canvas> newPage)
{
    private Canvas? _canvas;
    private double _y;

    internal void Title(string text)
    {
        Need(60);
        _y += 20;
        _canvas!.Text(text, SheetFrame.Left, _y, SheetFrame.Title, isBold: true);
        _canvas.Line(SheetFrame.Left, _y + 4, frame.Right, _y + 4, 0.8);
        _y += 6;
    }

    internal void Heading(string text, double size)
    {
        Need(size + 10);
        _y += size;
        _canvas!.Text(_canvas.Cut(text, frame.Right - SheetFrame.Left, size, isBold: true), SheetFrame.Left, _y, size, isBold: true);
        _y += 6;
    }

    internal void Paragraph(string text, bool isBold = false)
    {
        Need(SheetFrame.Leading);
        foreach (var line in _canvas!.Wrapped(text, frame.Right - SheetFrame.Left, SheetFrame.Body, isBold))
        {
            Need(SheetFrame.Leading + 1);
            _y += SheetFrame.Leading + 1;
            _canvas!.Text(line, SheetFrame.Left, _y, SheetFrame.Body, isBold);
        }
        _y += 3;
    }

    /// <summary>A table whose columns are as wide as what stands in them; what is too wide for its page is cut in the last column.</summary>
    internal void Table(IReadOnlyList<string> heads, IReadOnlyList<IReadOnlyList<string>> rows)
    {
        const double Gap = 12, Row = 13;
        Need(2 * Row);
        var widths = heads.Select((head, i) => rows.Select(row => _canvas!.Width(row[i], SheetFrame.Body)).Append(_canvas!.Width(head, SheetFrame.Body, isBold: true)).Max()).ToArray();
        void Write(IReadOnlyList<string> cells, bool isBold)
        {
            Need(Row);
            _y += Row;
            var x = SheetFrame.Left;
            for (var i = 0; i < cells.Count; i++)
            {
                _canvas!.Text(_canvas.Cut(cells[i], Math.Max(20, Math.Min(widths[i] + 1, frame.Right - x)), SheetFrame.Body, isBold), x, _y, SheetFrame.Body, isBold);
                x += widths[i] + Gap;
            }
        }
        Write(heads, isBold: true);
        _canvas!.Line(SheetFrame.Left, _y + 3, frame.Right, _y + 3, 0.4);
        _y += 2;
        foreach (var row in rows) Write(row, isBold: false);
        _y += 4;
    }

    private void Need(double height)
    {
        if (_canvas is not null && _y + height <= frame.Bottom) return;
        _canvas?.Dispose();
        (_canvas, _y) = (newPage(), SheetFrame.Margin - 6);
    }

    internal void End() => _canvas?.Dispose();
}
