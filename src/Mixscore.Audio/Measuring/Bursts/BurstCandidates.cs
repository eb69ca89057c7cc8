namespace Mixscore.Audio;

/// <summary>
/// Where the hiss of a sound stands up like a block, as level as noise is, over what lies right before and right after. Few sounds
/// do that, so that only few places have to be looked at closely.
/// </summary>
internal static class BurstCandidates
{
    private const float LeastOver = 4;       // 6 dB over the most hiss beside it
    private const float MostUnder = 4;       // 6 dB under its mean: where the softest hop of a second of noise of 8 kHz lies
    private const float LeastPower = 3e-8f;  // -75 dB; softer is nothing that a hall could hear
    private const int ContextHops = 8;       // 20 ms: longer than a period of the lowest voice
    private const int MostHops = 1000;       // 2.5 s

    /// <summary>Hops that a candidate fills, in order: the first, and the one after the last. One more on either side may be cut by its edge.</summary>
    /// <param name="hiss">Hops of a <see cref="HissTrack"/>.</param>
    internal static List<(int From, int To)> In(ReadOnlySpan<float> hiss)
    {
        var found = new List<(int, int)>();
        for (var from = 2; from < hiss.Length - 2; from++)
            // The second question is part of the first of End, and settles nearly all.
            if (hiss[from] >= LeastPower && hiss[from] >= LeastOver * hiss[from - 2] && End(hiss, from) is { } to)
            {
                found.Add((from, to));
                from = to;
            }
        return found;
    }

    private static int? End(ReadOnlySpan<float> hiss, int from)
    {
        var over = LeastOver * Most(hiss, Math.Max(0, from - 1 - ContextHops), from - 1);
        if (hiss[from] < over) return null;
        // An edge may cut the first hop and the last: they count only where there is none between them.
        var (sum, least) = (0.0, float.MaxValue);
        for (var to = from + 1; to < hiss.Length - 1 && to - from <= MostHops; to++)
        {
            var last = hiss[to - 1];
            var (mean, low) = to - from < 3 ? ((hiss[from] + last) / 2, Math.Min(hiss[from], last)) : (sum / (to - from - 2), least);
            if (mean < over || 2 * MostUnder * low < mean) return null;
            if (MostUnder * low >= mean && LeastOver * Most(hiss, to + 1, Math.Min(hiss.Length, to + 1 + ContextHops)) <= mean) return to;
            if (to - from < 2) continue;
            sum += last;
            least = Math.Min(least, last);
        }
        return null;
    }

    private static float Most(ReadOnlySpan<float> hiss, int from, int to)
    {
        var most = 0f;
        foreach (var power in hiss[from..to]) most = Math.Max(most, power);
        return most;
    }
}
