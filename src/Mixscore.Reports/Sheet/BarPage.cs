using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>A page of bars: one system, or several where they are low.</summary>
internal sealed class BarPage(SheetFrame frame, SheetInput input, SheetLeads leads, string? only)
{
    private readonly Timeline _timeline = input.Plan.Timeline;

    /// <summary>Puts systems on pages, in order.</summary>
    internal static IEnumerable<IReadOnlyList<SheetSystem>> Paged(SheetFrame frame, IEnumerable<SheetSystem> systems)
    {
        var page = new List<SheetSystem>();
        var height = 0.0;
        foreach (var system in systems)
        {
            if (page.Count > 0 && height + SheetSystem.Between + system.Height > frame.Height)
            {
                yield return page;
                (page, height) = ([], 0);
            }
            height += (page.Count > 0 ? SheetSystem.Between : 0) + system.Height;
            page.Add(system);
        }
        if (page.Count > 0) yield return page;
    }

    internal void Draw(Canvas canvas, IReadOnlyList<SheetSystem> systems)
    {
        Header(canvas, systems[0].Stretch, systems[^1].Stretch);
        var lanes = Math.Max(1, systems.Sum(system => system.Lanes));
        var spare = frame.Height - systems.Sum(system => system.Height) - SheetSystem.Between * (systems.Count - 1);
        var lane = Math.Min(SheetSystem.TallestLane, SheetSystem.Lane + Math.Max(0, spare) / lanes);
        var y = SheetFrame.Top;
        foreach (var system in systems) y = Draw(canvas, system, y, lane) + SheetSystem.Between;
    }

    private void Header(Canvas canvas, BarStretch first, BarStretch last)
    {
        var (from, to) = (_timeline.Tempo.SecondsAt(first.From), _timeline.Tempo.SecondsAt(last.To));
        var bars = string.Create(CultureInfo.InvariantCulture, $"{(first.Bars[0] == last.Bars[^1] ? $"bar {first.Bars[0]}" : $"bars {first.Bars[0]}–{last.Bars[^1]}")}   {Clock(from)}–{Clock(to)}");
        canvas.TextTo(bars, frame.Right, SheetFrame.Margin + 11, SheetFrame.Title, isBold: true);
        var title = only is null ? input.Plan.Plan.Title : $"{input.Plan.Plan.Title}: {only}";
        canvas.Text(canvas.Cut(title, frame.Right - SheetFrame.Left - canvas.Width(bars, SheetFrame.Title, isBold: true) - 20, SheetFrame.Title, isBold: true), SheetFrame.Left, SheetFrame.Margin + 11, SheetFrame.Title, isBold: true);
        canvas.Line(SheetFrame.Left, SheetFrame.Margin + 16, frame.Right, SheetFrame.Margin + 16, 1);
    }

    private double Draw(Canvas canvas, SheetSystem system, double top, double lane)
    {
        var y = system.Heading.Draw(canvas, top);
        Beats(canvas, system.Stretch, y);
        Site? site = null;
        foreach (var (row, texts) in system.Rows)
        {
            canvas.Line(SheetFrame.Left, y, frame.Right, y, site is null || row.Planned.Source.Site != site ? 1.2 : 0.3);
            site = row.Planned.Source.Site;
            if (texts.IsSilent)
            {
                Silent(canvas, row, y);
                y += SheetSystem.SilentRow;
                continue;
            }
            Name(canvas, row, system.Stretch, y);
            LeadMarks(canvas, row, system.Stretch, y);
            new SourceLane(canvas, frame, system.Stretch, input.Plan, row).Draw(y + 3, lane - 3);
            BarLines(canvas, system.Stretch, y, y + lane);
            y += lane + SheetSystem.UnderLane;
            foreach (var (text, x, line) in texts.Texts) canvas.Text(text, x, y + ((line + 1) * SheetFrame.Leading) - 4, SheetFrame.Move);
            y += (texts.Lines * SheetFrame.Leading) + 3;
        }
        canvas.Line(SheetFrame.Left, y, frame.Right, y, 1.2);
        if (system.Cautions.Count > 0) y += 4;
        foreach (var caution in system.Cautions) canvas.Text(caution, SheetFrame.Left, (y += SheetFrame.Leading) - 2, SheetFrame.Body, isBold: caution.StartsWith('!'));
        return y;
    }

    private void Silent(Canvas canvas, SheetRow row, double y)
    {
        var strip = string.Create(CultureInfo.InvariantCulture, $"{row.Planned.Source.Strip}");
        canvas.Text($"{strip}  {canvas.Cut(row.Name, frame.NameWidth - 22, SheetFrame.Body)}", SheetFrame.Left, y + 11.5, SheetFrame.Body);
        canvas.Text("off", frame.LaneLeft + 2, y + 11.5, SheetFrame.Body);
    }

    private void Name(Canvas canvas, SheetRow row, BarStretch stretch, double y)
    {
        var strip = string.Create(CultureInfo.InvariantCulture, $"{row.Planned.Source.Strip}");
        canvas.Text($"{strip}  {canvas.Cut(row.Name, frame.NameWidth - 20, SheetFrame.Body, isBold: true)}", SheetFrame.Left, y + 11.5, SheetFrame.Body, isBold: true);
        var at = row.Fitted.Ride.At(stretch.From.ToDouble());
        canvas.TextTo(SheetMove.Gain(at), frame.LaneLeft - 6, y + 24, SheetFrame.Body);
    }

    /// <summary>A thick line over the bars that the source leads.</summary>
    private void LeadMarks(Canvas canvas, SheetRow row, BarStretch stretch, double y)
    {
        foreach (var bar in stretch.Bars)
            if (leads.ByBar[bar.Index - 1] == row.Name) canvas.Fill(stretch.X(bar.Start), y, stretch.X(bar.End) - stretch.X(bar.Start), 2.6);
    }

    /// <summary>Lines stop at the foot of a lane, so that the moves under it stay clear to read.</summary>
    private void BarLines(Canvas canvas, BarStretch stretch, double top, double bottom)
    {
        var letters = _timeline.Letters.Select(letter => _timeline.Bars[letter.Bar - 1].Written).ToHashSet();
        foreach (var bar in stretch.Bars)
            canvas.Line(stretch.X(bar.Start), top, stretch.X(bar.Start), bottom, letters.Contains(bar.Written) ? 1.2 : 0.3);
        canvas.Line(frame.Right, top, frame.Right, bottom, stretch.IsLast ? 2.4 : 0.3);
    }

    private static void Beats(Canvas canvas, BarStretch stretch, double y)
    {
        foreach (var bar in stretch.Bars)
            for (var beat = 0; beat < bar.Beats.Count; beat++) canvas.Line(stretch.X(bar.Beats[beat]), y - (beat == 0 ? 4 : 2.5), stretch.X(bar.Beats[beat]), y, beat == 0 ? 0.8 : 0.4);
    }

    internal static string Clock(Seconds time)
    {
        var whole = (int)Math.Round(time.Value);
        return string.Create(CultureInfo.InvariantCulture, $"{whole / 60}:{whole % 60:00}");
    }
}
