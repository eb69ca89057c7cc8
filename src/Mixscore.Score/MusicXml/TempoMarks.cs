using System.Globalization;

namespace Mixscore.Score;

/// <summary>One tempo a place: marks for playing win over printed ones, the first part over the others.</summary>
internal static class TempoMarks
{
    /// <summary>How far a printed mark may lie from the mark for playing before a word is said about it.</summary>
    private const double Rounding = 0.02;

    internal static IReadOnlyList<WrittenTempo> Of(ScoreDraft draft, IReadOnlyList<WrittenBar> bars)
    {
        var marks = new List<WrittenTempo>();
        foreach (var place in draft.Tempo.Select(mark => OnABar(mark, bars)).OfType<TempoDraft>().GroupBy(mark => mark.At).OrderBy(place => place.Key))
        {
            var best = place.OrderBy(mark => mark.IsSound ? 0 : 1).ThenBy(mark => mark.Part).First();
            var chosen = place.Last(mark => mark.IsSound == best.IsSound && mark.Part == best.Part);
            var bar = bars[place.Key.Bar - 1];
            var before = marks.Count > 0 ? marks[^1].QuartersPerMinute : TimelineBuilder.DefaultTempo;
            var tempo = chosen.IsRelation ? before * chosen.QuartersPerMinute : chosen.QuartersPerMinute;
            if (chosen.IsRelation)
                draft.Notices.Warn("MX045", chosen.Line, bar.Label, Invariant($"a unit equals another; that makes {tempo:0.##} quarters a minute of the {before:0.##} before"), "say the tempo in the plan's tempo: if that is not meant");
            if (!double.IsFinite(tempo) || tempo is <= 0.01 or > 100_000)
            {
                draft.Notices.Warn("MX042", chosen.Line, bar.Label, "a relation of units leads to a tempo that is not believed; the tempo before it goes on");
                continue;
            }
            if (place.Any(mark => !mark.IsRelation && Math.Abs(mark.QuartersPerMinute - tempo) > Rounding * tempo))
                draft.Notices.Warn("MX044", chosen.Line, bar.Label, Invariant($"the tempo marks disagree; {tempo:0.##} quarters a minute is taken ({(chosen.IsSound ? "the mark for playing" : "the first part's")})"), "say the tempo in the plan's tempo: if another is meant");
            marks.Add(new WrittenTempo(place.Key, tempo));
        }
        return marks;
    }

    /// <summary>A mark at a bar's very end holds from the next bar; behind the last bar it holds nowhere.</summary>
    private static TempoDraft? OnABar(TempoDraft mark, IReadOnlyList<WrittenBar> bars)
    {
        if (mark.At.Offset == Quarters.Zero || mark.At.Offset < bars[mark.At.Bar - 1].Length) return mark;
        return mark.At.Bar < bars.Count ? mark with { At = new WrittenPlace(mark.At.Bar + 1, Quarters.Zero), Part = mark.Part + 0x10000, IsSound = false } : null;
    }

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
