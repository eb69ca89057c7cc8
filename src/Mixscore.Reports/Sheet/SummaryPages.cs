using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>What one must know before the first bar, and the spots where a source strays or was set by hand.</summary>
internal sealed class SummaryPages(SheetInput input, IReadOnlyList<SheetRow> rows, PageFlow flow)
{
    private readonly MixPlan _plan = input.Plan.Plan;
    private readonly Timeline _timeline = input.Plan.Timeline;

    internal void Summary()
    {
        flow.Heading(_plan.Title, 20);
        flow.Paragraph(string.Create(CultureInfo.InvariantCulture, $"Plan of {input.Date:yyyy-MM-dd}, version {input.Version}. {_timeline.Bars.Count} bars, {BarPage.Clock(_timeline.Duration)}. 0 LU is {SheetMove.Signed(_plan.Reference.Value)} LUFS."));
        flow.Paragraph("How to read a row: its name, the number of its strip, and where its fader stands as the page begins. Grey is how loud it should be heard; the black line is the fader, a dot where it turns. A thick bar on top: this source leads. A dashed frame with an exclamation mark: it strays from its level here; the reason stands below. A black block at the foot of a lane: set by hand, and kept.");
        Sources();
        Sites();
        Letters();
        Limits();
        if (input.Desks.Count > 0) Desks();
        if (input.Cautions.Count > 0) flow.Title("Cautions");
        foreach (var caution in input.Cautions) flow.Paragraph(caution);
    }

    internal void Spots()
    {
        flow.Heading("Where a source strays or was set by hand", 16);
        flow.Title("Widened: no move of a fader keeps the level here");
        var widened = rows.SelectMany(row => row.Fitted.Widened.Select(spot => (row.Name, Spot: spot))).OrderBy(one => one.Spot.From).ToArray();
        if (widened.Length == 0) flow.Paragraph("None: every source can keep its level.");
        else
            foreach (var (_, spot) in widened)
                flow.Paragraph(string.Create(CultureInfo.InvariantCulture, $"{BarPage.Clock(_timeline.Tempo.SecondsAt(spot.From))}   {spot.Text}: widened by {spot.By.Value:0.0} LU."));
        flow.Title("Pinned: set by hand and kept");
        var pinned = rows.SelectMany(row => row.Planned.Pins.Select(pin => (row.Name, Pin: pin))).OrderBy(one => one.Pin.From).ToArray();
        if (pinned.Length == 0) flow.Paragraph("None.");
        else flow.Table(["From", "To", "Source", "Gain"], [.. pinned.Select(one => (string[])[
            SheetMove.BarAndBeat(_timeline, one.Pin.From), SheetMove.BarAndBeat(_timeline, one.Pin.To), one.Name,
            one.Pin.Start == one.Pin.End ? SheetMove.Gain(one.Pin.Start) : $"{SheetMove.Gain(one.Pin.Start)} to {SheetMove.Gain(one.Pin.End)}"])]);
    }

    private void Sources()
    {
        flow.Title("Sources");
        var latest = _plan.Sites.Select(site => site.Link.Delay.Value).DefaultIfEmpty(0).Max();
        flow.Table(["Strip", "Source", "Role", "Part", "Within", "Moves", "Link", "Line up by"], [.. rows.Select(row => (string[])[
            Number(row.Planned.Source.Strip), row.Name, row.Planned.Source.Role.ToString().ToLowerInvariant(), row.Planned.Part?.Name ?? "–",
            $"±{Number(row.Planned.Source.Within.Value)} LU", Number(row.Moves.Count), Milliseconds(row.Planned.Source.Site.Link.Delay.Value),
            $"+{Milliseconds(latest - row.Planned.Source.Site.Link.Delay.Value)}"])]);
        flow.Paragraph("Line up by: the delay that the strip needs so that all sites sound together.");
    }

    private void Sites()
    {
        flow.Title("Links");
        var sites = _plan.Sites.Where(site => rows.Any(row => row.Planned.Source.Site == site));
        flow.Table(["Site", "Delay", "If the link drops"], [.. sites.Select(site => (string[])[
            site.Name, Milliseconds(site.Link.Delay.Value), site.Link.OnDrop.Fades ? $"its faders fade out over {Milliseconds(site.Link.OnDrop.Over.Value)}, at most {Number(_plan.Limits.Speed)} dB/s" : "its faders hold where they stand"])]);
    }

    private void Letters()
    {
        if (_timeline.Letters.Count == 0) return;
        flow.Title("Letters");
        flow.Paragraph(string.Join(" · ", _timeline.Letters.Select(letter =>
        {
            var bar = _timeline.Bars[letter.Bar - 1];
            return $"{letter.Name}\u00A0bar\u00A0{bar}\u00A0({BarPage.Clock(_timeline.Tempo.SecondsAt(bar.Start))})";
        })));
    }

    private void Limits()
    {
        var limits = _plan.Limits;
        flow.Title("Limits");
        flow.Paragraph($"Fader from {SheetMove.Gain(limits.Bottom)} to {SheetMove.Gain(limits.Top)}; planned moves at most {Number(limits.Speed)} dB/s, a hand {Number(limits.Hand)} dB/s; true peak of the mix under {SheetMove.Signed(limits.TruePeak.Value)} dBTP"
            + (limits.Loudness is { } most ? $"; its loudness at most {SheetMove.Signed(most.Value)} LUFS." : "."));
    }

    private void Desks()
    {
        flow.Title("Strips");
        flow.Table(["Strip", "Source", .. input.Desks.Select(desk => desk.Title)], [.. rows.OrderBy(row => row.Planned.Source.Strip).Select(row => (string[])[
            Number(row.Planned.Source.Strip), row.Name, .. input.Desks.Select(desk => desk.Strips.FirstOrDefault(strip => strip.Source == row.Name)?.Address ?? "–")])]);
        flow.Paragraph(string.Join(" · ", input.Desks.Select(desk => $"{desk.Title}: {desk.To}")));
    }

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Milliseconds(double seconds) => $"{Number(seconds * 1000)} ms";
}
