namespace Mixscore.Score;

/// <summary>
/// The meter of each bar. A signature of several fractions may mean one bar of all of them or bars that take turns; the
/// format does not tell (MusicXML 4.0, time), so the lengths of its bars do.
/// </summary>
internal static class BarMeters
{
    internal static Meter[] Of(ScoreDraft draft)
    {
        var signs = new MeterSign[draft.Bars.Count];
        var sign = MeterSign.Of(Meter.Common);
        for (var i = 0; i < signs.Length; i++) signs[i] = sign = draft.Bars[i].Meter ?? sign;
        var meters = new Meter[signs.Length];
        for (var from = 0; from < signs.Length;)
        {
            var to = from + 1;
            while (to < signs.Length && signs[to].Equals(signs[from])) to++;
            Fill(meters.AsSpan(from, to - from), signs[from], draft.Bars.GetRange(from, to - from), draft.Notices);
            from = to;
        }
        return meters;
    }

    private static void Fill(Span<Meter> meters, MeterSign sign, List<BarDraft> bars, Notices notices)
    {
        var isInTurn = !sign.IsInterchangeable && sign.Fractions.Count > 1 && TakeTurns(sign, bars);
        for (var i = 0; i < meters.Length; i++)
            meters[i] = isInTurn ? sign.Fractions[i % sign.Fractions.Count]
                : sign.IsInterchangeable ? sign.Fractions.FirstOrDefault(meter => meter.Length == bars[i].Length) ?? sign.Whole
                : sign.Whole;
        if (isInTurn)
            notices.Warn("MX058", bars[0].Line, bars[0].Label, $"the meters {string.Join(" and ", sign.Fractions)} stand side by side; by the length of the bars they take turns");
        else if (sign is { IsInterchangeable: false, Fractions.Count: > 1 } && !bars.Exists(bar => bar.Length == sign.Whole.Length))
            notices.Warn("MX058", bars[0].Line, bars[0].Label, $"the meters {string.Join(" and ", sign.Fractions)} stand side by side and no bar tells how; they are taken as one bar of {sign.Whole}");
    }

    /// <summary>Whether every bar that has music is as long as the fraction whose turn it is, and two fractions at least were met.</summary>
    private static bool TakeTurns(MeterSign sign, List<BarDraft> bars)
    {
        var met = new HashSet<int>();
        for (var i = 0; i < bars.Count; i++)
        {
            if (bars[i].Length == Quarters.Zero) continue;
            if (bars[i].Length != sign.Fractions[i % sign.Fractions.Count].Length) return false;
            met.Add(i % sign.Fractions.Count);
        }
        return met.Count > 1;
    }
}
