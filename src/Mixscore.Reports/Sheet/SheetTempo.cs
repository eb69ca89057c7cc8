using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>Tempo and meter as the sheet says them.</summary>
internal static class SheetTempo
{
    /// <summary>What stands in a stretch: what is in force at its beginning, and every change.</summary>
    internal static IEnumerable<(Quarters Place, string Text)> Signs(PlanOnScore plan, BarStretch stretch)
    {
        var pieces = plan.Timeline.Tempo.Pieces;
        var holds = Holds(plan);
        var tempo = plan.Timeline.Tempo.TempoAt(stretch.From.ToDouble());
        var meter = stretch.Bars[0].Meter;
        if (!pieces.Any(piece => piece.From == stretch.From)) yield return (stretch.From, $"{meter.Text}   {Beat(tempo)}");
        var last = tempo;
        for (var i = 0; i < pieces.Count; i++)
        {
            var piece = pieces[i];
            if (!stretch.Holds(piece.From)) continue;
            var isFirst = piece.From == stretch.From;
            var head = isFirst ? meter.Text + "   " : "";
            if (holds.TryGetValue(piece.From, out var length))
            {
                yield return (piece.From, string.Create(CultureInfo.InvariantCulture, $"{head}hold {length.Value:0.#} s"));
                continue;
            }
            if (!piece.IsConstant)
                yield return (piece.From, $"{head}{Beat(piece.StartTempo)} to {Number(piece.EndTempo)} at {SheetMove.BarAndBeat(plan.Timeline, pieces[i + 1].From)}");
            else if (isFirst || piece.StartTempo != last) yield return (piece.From, head + Beat(piece.StartTempo));
            last = piece.EndTempo;
        }
        foreach (var bar in stretch.Bars.Skip(1))
        {
            if (bar.Meter.Text != meter.Text) yield return (bar.Start, bar.Meter.Text);
            meter = bar.Meter;
        }
    }

    /// <summary>Held beats by their places.</summary>
    private static Dictionary<Quarters, Seconds> Holds(PlanOnScore plan)
    {
        var holds = new Dictionary<Quarters, Seconds>();
        foreach (var entry in plan.Plan.Tempo)
            if (entry.Hold is { } hold && plan.Timeline.TryResolve(entry.From, out var place, out _))
                holds[plan.Timeline.BarAt(place).Beats.Last(beat => beat <= place)] = hold;
        return holds;
    }

    private static string Beat(double tempo) => $"♩ = {Number(tempo)}";

    private static string Number(double tempo) => Math.Round(tempo, 1).ToString("0.#", CultureInfo.InvariantCulture);
}
