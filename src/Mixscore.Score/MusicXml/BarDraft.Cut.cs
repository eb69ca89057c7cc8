namespace Mixscore.Score;

internal sealed partial class BarDraft
{
    /// <summary>The pieces of the bar that begin at each of the cuts, numbered from a first number on; all keep the printed number.</summary>
    internal IEnumerable<BarDraft> Cut(Quarters[] cuts, int first)
    {
        for (var i = 0; i < cuts.Length; i++)
        {
            var isLast = i == cuts.Length - 1;
            var begins = i == 0 ? new InnerBarline { RepeatStarts = RepeatStarts, EndingStart = EndingStart } : Inner[cuts[i]];
            var ends = isLast ? new InnerBarline { Plays = Plays, RepeatsAfterJump = RepeatsAfterJump, EndingStops = EndingStops } : Inner[cuts[i + 1]];
            var piece = new BarDraft(first + i, label, line)
            {
                Length = (isLast ? Length : cuts[i + 1]) - cuts[i],
                RepeatStarts = begins.RepeatStarts,
                EndingStart = begins.EndingStart,
                Plays = ends.Plays,
                RepeatsAfterJump = ends.RepeatsAfterJump,
                EndingStops = ends.EndingStops,
            };
            piece._meters.AddRange(_meters);
            piece.Jumps.AddRange(Jumps.Where(sign => PieceOf(sign.Jump, sign.At, cuts) == i).Select(sign => (sign.Jump, sign.At - cuts[i])));
            yield return piece;
        }
    }

    /// <summary>A target on a cut belongs to what begins there; everything else to what ends there.</summary>
    private static int PieceOf(Jump jump, Quarters at, Quarters[] cuts)
    {
        var isTarget = jump.Kind is JumpKind.Segno or JumpKind.Coda;
        return Math.Max(0, Array.FindLastIndex(cuts, cut => isTarget ? cut <= at : cut < at));
    }
}
