namespace Mixscore.Reports;

/// <summary>
/// Breaks the piece into systems: as many bars as a width takes and as a page has room for their moves, ending before a
/// rehearsal letter where one is near. Where not even one bar of all sources fits on a page, the sources go over several.
/// </summary>
internal sealed class SystemBreaker(SheetFrame frame, SheetInput input, IReadOnlyList<SheetRow> rows, SheetLeads leads, Canvas measure)
{
    /// <summary>The least width of a bar, and of a quarter.</summary>
    private const double NarrowestBar = 36, NarrowestQuarter = 8.5;

    /// <summary>A stretch may end early at a letter if it keeps so much of its bars.</summary>
    private const double KeptAtLetter = 0.6;

    private readonly HashSet<int> _letters = [.. input.Plan.Timeline.Letters
        .SelectMany(letter => input.Plan.Timeline.Bars.Where(bar => bar.Written == input.Plan.Timeline.Bars[letter.Bar - 1].Written)).Select(bar => bar.Index - 1)];

    internal IEnumerable<SheetSystem> Systems()
    {
        var bars = input.Plan.Timeline.Bars.Count;
        for (var first = 0; first < bars;)
        {
            var count = Count(first);
            foreach (var system in Grouped(first, count)) yield return system;
            first += count;
        }
    }

    private int Count(int first)
    {
        var count = Enumerable.Range(1, Widest(first)).Reverse().MinBy(bars => Cost(Grouped(first, bars).Count, bars));
        for (var early = count; early > 1 && early >= KeptAtLetter * count; early--)
            if (_letters.Contains(first + early)) return early;
        return count;
    }

    /// <summary>Pages a bar; a page that another must be held beside counts for half as much again, so that sources stay together where they can.</summary>
    private static double Cost(int pages, int bars) => (pages + 0.5 * (pages - 1)) / bars;

    private int Widest(int first)
    {
        var bars = input.Plan.Timeline.Bars;
        var width = 0.0;
        for (var i = first; i < bars.Count; i++)
        {
            width += Math.Max(NarrowestBar, NarrowestQuarter * bars[i].Length.ToDouble());
            if (width > frame.LaneWidth) return Math.Max(1, i - first);
        }
        return bars.Count - first;
    }

    /// <summary>The sources of a stretch in systems that each fit on a page.</summary>
    private List<SheetSystem> Grouped(int first, int count)
    {
        var stretch = new BarStretch(frame, input.Plan.Timeline, first, count);
        var heading = new SystemHeading(frame, stretch, input.Plan, leads, measure);
        var systems = new List<SheetSystem>();
        var group = new List<(SheetRow, RowTexts)>();
        var (cautions, height) = (new List<string>(), heading.Height);
        foreach (var row in rows)
        {
            var texts = RowTexts.Of(frame, stretch, input.Plan.Timeline, row, measure);
            var said = Cautions(row, stretch);
            var added = SheetSystem.RowHeight(texts) + (said.Count * SheetFrame.Leading) + (cautions.Count == 0 && said.Count > 0 ? 4 : 0);
            if (group.Count > 0 && height + added > frame.Height)
            {
                systems.Add(new SheetSystem(stretch, group, heading, cautions, height));
                (group, cautions, height) = ([], [], heading.Height);
            }
            group.Add((row, texts));
            cautions.AddRange(said);
            height += added;
        }
        systems.Add(new SheetSystem(stretch, group, heading, cautions, height));
        return systems;
    }

    /// <summary>Where the source strays in these bars, in lines.</summary>
    private List<string> Cautions(SheetRow row, BarStretch stretch) =>
        [.. row.Fitted.Widened.Where(spot => spot.From < stretch.To && spot.To > stretch.From)
            .SelectMany(spot => measure.Wrapped($"! {spot.Text}", frame.Right - SheetFrame.Left, SheetFrame.Body))];
}
