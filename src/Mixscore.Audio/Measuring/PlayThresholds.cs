using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>
/// How loud a feed must be to be taken for playing: somewhat over what it sounds like at rest, and the more so the
/// further its playing stands over that. Our own figures, tried on recorded and made feeds; no source.
/// </summary>
/// <param name="Reaches">A stretch of playing reaches this somewhere, LUFS over 0.11 s.</param>
/// <param name="Holds">It goes on while it stays over this, LUFS over 0.03 s.</param>
internal readonly record struct PlayThresholds(double Reaches, double Holds)
{
    private const int LevelHops = 21;           // 0.2 s
    private const double LeastOverRest = 15;    // a feed whose softest lies nearer to its loudness never rests
    private const double LeastOverKnownRest = 6;
    private static readonly PlayThresholds Any = new(HopLevels.Silence, HopLevels.Silence);

    /// <summary>Finds them.</summary>
    /// <param name="levels">The feed.</param>
    /// <param name="integrated">Its gated loudness.</param>
    /// <param name="expected">Where the score lets it play, in the feed's time; <c>null</c> where that is not known.</param>
    internal static PlayThresholds Of(HopLevels levels, Lufs? integrated, IReadOnlyList<Stretch>? expected)
    {
        if (expected is { Count: > 0 }) return OfExpected(levels, expected);
        var all = new List<double>();
        for (var i = 0; i < levels.Count; i++)
            if (!levels.IsSilent(i)) all.Add(levels.PowerAround(i, LevelHops));
        if (all.Count == 0 || integrated is not { } play) return Any;
        all.Sort();
        // The softest fiftieth is rest, if there is any, and more than dropouts are likely to fill; the median of what lies about it is less of an extreme.
        const double Near = 6;
        var near = HopLevels.PowerOf(HopLevels.LevelOf(all[all.Count / 50]) + Near);
        var rest = Median(all, all.FindIndex(power => power >= near) is var end and >= 0 ? end : all.Count);
        return play.Value - rest < LeastOverRest ? Any : Over(rest, play.Value - rest);
    }

    /// <summary>With the score at hand, rest is what lies half a second or more from anything that it writes.</summary>
    private static PlayThresholds OfExpected(HopLevels levels, IReadOnlyList<Stretch> expected)
    {
        const double Margin = 0.5, LeastRest = 0.5;
        var (rests, plays) = (new List<double>(), new List<double>());
        for (var (i, next) = (0, 0); i < levels.Count; i++)
        {
            var at = HopLevels.Middle(i);
            while (next < expected.Count && expected[next].To.Value + Margin < at) next++;
            if (levels.IsSilent(i)) continue;
            if (next == expected.Count || at < expected[next].From.Value - Margin) rests.Add(levels.PowerAround(i, LevelHops));
            else if (at >= expected[next].From.Value && at <= expected[next].To.Value) plays.Add(levels.PowerAround(i, LevelHops));
        }
        if (rests.Count * SoundAnalysis.HopSeconds < LeastRest || plays.Count == 0) return Any;
        rests.Sort();
        plays.Sort();
        var (rest, play) = (Median(rests, rests.Count), Median(plays, plays.Count));
        return play - rest < LeastOverKnownRest ? Any : Over(rest, play - rest);
    }

    private static PlayThresholds Over(double rest, double by) => new(rest + Math.Clamp(0.3 * by, 4, 9), rest + Math.Clamp(0.2 * by, 3, 6));

    /// <summary>The level in the middle of the softest powers.</summary>
    private static double Median(List<double> sorted, int count) => HopLevels.LevelOf(sorted[count / 2]);
}
