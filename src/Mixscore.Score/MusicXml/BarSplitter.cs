namespace Mixscore.Score;

/// <summary>
/// Cuts bars in two where a repeat sign or an ending stands inside them, since played bars are whole bars. All places of
/// the score move with them.
/// </summary>
internal sealed class BarSplitter
{
    private readonly List<BarDraft> _bars = [];
    private readonly List<Quarters[]> _cuts = [];   // for each bar as read, where its pieces begin
    private readonly List<int> _first = [];         // for each bar as read, the number of its first piece

    private BarSplitter(ScoreDraft draft)
    {
        TakeThoseAtTheEnd(draft.Bars);
        foreach (var bar in draft.Bars)
        {
            Quarters[] cuts = [Quarters.Zero, .. bar.Inner.Keys.Where(at => at < bar.Length)];
            _cuts.Add(cuts);
            _first.Add(_bars.Count + 1);
            _bars.AddRange(bar.Cut(cuts, _bars.Count + 1));
        }
    }

    internal static void Split(ScoreDraft draft, IReadOnlyList<PartReader> readers)
    {
        if (draft.Bars.TrueForAll(bar => bar.Inner.Count == 0)) return;
        var splitter = new BarSplitter(draft);
        draft.Replace(splitter._bars, splitter.Place);
        foreach (var reader in readers) reader.Replace(splitter.Place, splitter.Lengths(reader.Lengths));
    }

    /// <summary>A barline that says it is inside but stands at the end is the bar's own.</summary>
    private static void TakeThoseAtTheEnd(List<BarDraft> bars)
    {
        for (var i = 0; i < bars.Count; i++)
            foreach (var (_, inner) in bars[i].Inner.Where(barline => barline.Key >= bars[i].Length))
            {
                bars[i].Plays = Math.Max(bars[i].Plays, inner.Plays);
                bars[i].RepeatsAfterJump |= inner.RepeatsAfterJump;
                bars[i].EndingStops |= inner.EndingStops;
                if (i + 1 == bars.Count) continue;
                bars[i + 1].RepeatStarts |= inner.RepeatStarts;
                bars[i + 1].EndingStart ??= inner.EndingStart;
            }
    }

    private WrittenPlace Place(WrittenPlace old)
    {
        var cuts = _cuts[old.Bar - 1];
        var piece = Array.FindLastIndex(cuts, cut => cut <= old.Offset);
        return new WrittenPlace(_first[old.Bar - 1] + piece, old.Offset - cuts[piece]);
    }

    /// <summary>How far a part goes in each of the pieces.</summary>
    private List<Quarters> Lengths(List<Quarters> old) =>
    [
        .. old.SelectMany((length, i) => _cuts[i].Select((cut, k) =>
            Quarters.Max(Quarters.Zero, (k + 1 < _cuts[i].Length ? Quarters.Min(length, _cuts[i][k + 1]) : length) - cut))),
    ];
}
