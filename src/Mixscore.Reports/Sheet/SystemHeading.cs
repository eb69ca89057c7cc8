using System.Globalization;
using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>What stands over a stretch of bars: tempo and meter where they change, letters, bar numbers, and who leads.</summary>
internal sealed class SystemHeading
{
    private const double NumberLine = 16, LetterLine = 19, LeadLine = 16;
    private readonly IReadOnlyList<(string Text, double X, int Line)> _signs;
    private readonly int _signLines;
    private readonly IReadOnlyList<(string Name, double X)> _letters;
    private readonly BarStretch _stretch;
    private readonly SheetLeads _leads;

    internal SystemHeading(SheetFrame frame, BarStretch stretch, PlanOnScore plan, SheetLeads leads, Canvas measure)
    {
        (_stretch, _leads) = (stretch, leads);
        var shelves = new Shelves(frame.LaneLeft, frame.Right, 8);
        var signs = new List<(string, double, int)>();
        foreach (var (place, text) in SheetTempo.Signs(plan, stretch).OrderBy(sign => sign.Place))
        {
            var (line, x) = shelves.Place(stretch.X(place), measure.Width(text, SheetFrame.Body, isBold: true));
            signs.Add((text, x, line));
        }
        (_signs, _signLines) = (signs, shelves.Count);
        _letters = [.. plan.Timeline.Letters.Select(letter => (letter.Name, Written: plan.Timeline.Bars[letter.Bar - 1].Written))
            .SelectMany(letter => stretch.Bars.Where(bar => bar.Written == letter.Written).Select(bar => (letter.Name, stretch.X(bar.Start))))];
    }

    internal double Height => (_signLines * SheetFrame.Leading) + (_letters.Count > 0 ? LetterLine : 0) + NumberLine + LeadLine + 4;

    /// <summary>Draws it and tells where it ends.</summary>
    internal double Draw(Canvas canvas, double top)
    {
        foreach (var (text, x, line) in _signs) canvas.Text(text, x, top + ((line + 1) * SheetFrame.Leading) - 2, SheetFrame.Body, isBold: true);
        var y = top + (_signLines * SheetFrame.Leading);
        if (_letters.Count > 0)
        {
            foreach (var (name, x) in _letters)
            {
                canvas.Box(x, y + 1, canvas.Width(name, SheetFrame.Number, isBold: true) + 8, LetterLine - 3, 1.2);
                canvas.Text(name, x + 4, y + LetterLine - 5, SheetFrame.Number, isBold: true);
            }
            y += LetterLine;
        }
        Numbers(canvas, y + NumberLine - 3);
        y += NumberLine;
        Leads(canvas, y + 1);
        return y + LeadLine + 4;
    }

    private void Numbers(Canvas canvas, double y)
    {
        var free = double.NegativeInfinity;
        foreach (var bar in _stretch.Bars)
        {
            var x = _stretch.X(bar.Start) + 2;
            if (x < free) continue;
            canvas.Text(bar.Label, x, y, SheetFrame.Number, isBold: true);
            x += canvas.Width(bar.Label, SheetFrame.Number, isBold: true);
            if (bar.Pass > 1)
            {
                var pass = string.Create(CultureInfo.InvariantCulture, $"@{bar.Pass}");
                canvas.Text(pass, x + 1, y, SheetFrame.Small, isBold: true);
                x += canvas.Width(pass, SheetFrame.Small, isBold: true) + 1;
            }
            free = x + 1;
        }
    }

    /// <summary>A frame around the bars that one source leads, with its name.</summary>
    private void Leads(Canvas canvas, double y)
    {
        canvas.Text("leads", SheetFrame.Left, y + 10, SheetFrame.Small);
        for (int from = 0, to; from < _stretch.Bars.Count; from = to)
        {
            var lead = LeadOf(from);
            to = from + 1;
            while (to < _stretch.Bars.Count && LeadOf(to) == lead) to++;
            if (lead is null) continue;
            var (x, right) = (_stretch.X(_stretch.Bars[from].Start) + 0.8, _stretch.X(_stretch.Bars[to - 1].End) - 0.8);
            canvas.Box(x, y, right - x, LeadLine - 3, 0.9);
            var name = canvas.Width(lead, SheetFrame.Body, isBold: true) <= right - x - 5 ? lead : lead[(lead.IndexOf('.', StringComparison.Ordinal) + 1)..];
            canvas.Text(canvas.Cut(name, right - x - 5, SheetFrame.Body, isBold: true), x + 3, y + 10, SheetFrame.Body, isBold: true);
        }
    }

    private string? LeadOf(int bar) => _leads.ByBar[_stretch.Bars[bar].Index - 1];
}
