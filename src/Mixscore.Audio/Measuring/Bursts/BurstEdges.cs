namespace Mixscore.Audio;

/// <summary>Where a burst begins and ends, if it does both abruptly and is level in between.</summary>
/// <param name="cells">The hiss about it, each half millisecond.</param>
/// <param name="coreFrom">The first cell of what it certainly fills.</param>
/// <param name="coreTo">The one after the last of those.</param>
internal readonly struct BurstEdges(float[] cells, int coreFrom, int coreTo)
{
    private const int LeastCells = 9;           // 4.5 ms
    private const float Edge = 4;               // it begins 6 dB under its level
    private const float Rises = 2;              // and reaches 3 dB under that in its first 1.5 ms
    private const float Step = 4;               // 1 to 3 ms into it there is 6 dB more than 1 to 3 ms before it,
    private const float Under = 10;             // where it is 10 dB under its level,
    private const float OverBeside = 2;         // or no more than 3 dB over the 17 ms before
    private const float MostApart = 4;          // its quarters differ by 6 dB at most

    /// <summary>The median of the core.</summary>
    internal float Level { get; } = Median(cells[coreFrom..coreTo]);

    /// <summary>The first cell and the one after the last; <c>null</c> where it is no burst.</summary>
    /// <param name="reach">How far from the ends of the core they may lie.</param>
    internal (int From, int To)? Find(int reach)
    {
        if (Begin(reach) is not { } from || End(reach) is not { } to || to - from < LeastCells) return null;
        var rises = IsStep(Mean(from + 2, from + 6), Mean(from - 6, from - 2), Mean(from - 40, from - 6));
        var falls = IsStep(Mean(to - 6, to - 2), Mean(to + 2, to + 6), Mean(to + 6, to + 40));
        return rises && falls && IsLevel(from, to) ? (from, to) : null;
    }

    private int? Begin(int reach)
    {
        for (var i = Math.Max(0, coreFrom - reach); i <= coreFrom + reach && i + 3 <= cells.Length; i++)
            if (Edge * cells[i] >= Level && Rises * Mean(i, i + 3) >= Level) return i;
        return null;
    }

    private int? End(int reach)
    {
        for (var i = Math.Min(cells.Length, coreTo + reach); i >= coreTo - reach && i >= 3; i--)
            if (Edge * cells[i - 1] >= Level && Rises * Mean(i - 3, i) >= Level) return i;
        return null;
    }

    private bool IsStep(float inside, float outside, float beside) => inside >= Step * outside && outside <= Math.Max(OverBeside * beside, Level / Under);

    private bool IsLevel(int from, int to)
    {
        var (least, most) = (float.MaxValue, 0f);
        for (var quarter = 0; quarter < 4; quarter++)
        {
            var mean = Mean(from + (to - from) * quarter / 4, from + (to - from) * (quarter + 1) / 4);
            (least, most) = (Math.Min(least, mean), Math.Max(most, mean));
        }
        return most <= MostApart * least;
    }

    private float Mean(int from, int to)
    {
        (from, to) = (Math.Max(0, from), Math.Min(cells.Length, to));
        var sum = 0f;
        for (var i = from; i < to; i++) sum += cells[i];
        return to > from ? sum / (to - from) : 0;
    }

    private static float Median(float[] values)
    {
        Array.Sort(values);
        return values[values.Length / 2];
    }
}
