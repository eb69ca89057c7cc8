using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Tells a dropped link from a rest. Both can be silence; but a link is cut in the middle of sound, even if that is only
/// the hiss of the room, and comes back into it.
/// </summary>
/// <remarks>
/// Candidates are digital silence of 50 ms or more between sounds, and, in a feed whose rest has a floor, stretches that
/// lie far under that floor. Both of a candidate's edges must be abrupt. A feed without a floor, such as one that a gate
/// closes, is silent in its rests as well: there only a feed that otherwise never rests, or the score, can tell.
/// </remarks>
internal static class Dropouts
{
    private const double ShortestSeconds = 0.05;
    private const double LeastFloorSeconds = 1;
    private const double AbruptLevel = -80;      // LUFS; a sound that died away has passed under this
    private const double LongestUnasked = 5;     // seconds; in a feed that never rests
    private const double MostSilentPart = 0.1;   // of a feed that never rests
    private const double UnderFloor = 12, NearFloor = 8;
    private const int EdgeHops = 3;

    /// <summary>Finds the dropouts.</summary>
    /// <param name="levels">The feed.</param>
    /// <param name="silences">Its digital silences.</param>
    /// <param name="thresholds">What playing is.</param>
    /// <param name="expected">Where the score lets it play; <c>null</c> where that is not known.</param>
    internal static IReadOnlyList<Stretch> Find(HopLevels levels, IReadOnlyList<Stretch> silences, PlayThresholds thresholds, IReadOnlyList<Stretch>? expected)
    {
        var cuts = silences.Where(silence => IsCut(levels, silence)).ToList();
        var rest = Rest(levels, HopLevels.PowerOf(thresholds.Holds));
        if (rest.Count * SoundAnalysis.HopSeconds >= LeastFloorSeconds)
            return [.. cuts.Concat(Muted(levels, rest)).OrderBy(cut => cut.From)];
        var whole = levels.Count * SoundAnalysis.HopSeconds;
        var neverRests = silences.Sum(silence => silence.Length.Value) <= MostSilentPart * whole && cuts.TrueForAll(cut => cut.Length.Value <= LongestUnasked);
        return [.. cuts.Where(cut => expected is null ? neverRests : IsAskedToPlay(cut, expected))];
    }

    private static List<int> Rest(HopLevels levels, double holding)
    {
        var rest = new List<int>();
        for (var hop = 0; hop < levels.Count; hop++)
            if (!levels.IsSilent(hop) && levels.PowerAround(hop, EdgeHops) < holding) rest.Add(hop);
        return rest;
    }

    /// <summary>Sound right before and right after.</summary>
    private static bool IsCut(HopLevels levels, Stretch silence)
    {
        var first = (int)(silence.From.Value / SoundAnalysis.HopSeconds);
        var last = (int)Math.Ceiling(silence.To.Value / SoundAnalysis.HopSeconds);
        return first > 0 && last < levels.Count
            && levels.Level(Math.Max(0, first - EdgeHops), first + 1) > AbruptLevel
            && levels.Level(last - 1, Math.Min(levels.Count, last + EdgeHops)) > AbruptLevel;
    }

    private static bool IsAskedToPlay(Stretch cut, IReadOnlyList<Stretch> expected)
    {
        const double Most = 0.8;
        return expected.Sum(stretch => stretch.Overlap(cut).Value) >= Most * cut.Length.Value;
    }

    /// <summary>Stretches far under the floor that are entered and left in a few hops.</summary>
    private static IEnumerable<Stretch> Muted(HopLevels levels, List<int> rest)
    {
        var sorted = rest.ConvertAll(hop => levels.PowerAround(hop, EdgeHops));
        sorted.Sort();
        var floor = HopLevels.LevelOf(sorted[sorted.Count / 2]);
        var under = HopLevels.PowerOf(floor - UnderFloor);
        for (var i = 0; i < levels.Count; i++)
        {
            if (!IsUnder(i)) continue;
            var from = i;
            while (i < levels.Count && IsUnder(i)) i++;
            if (from == 0 || i == levels.Count || (i - from) * SoundAnalysis.HopSeconds < ShortestSeconds) continue;
            if (levels.Level(Math.Max(0, from - EdgeHops - 1), from - 1) < floor - NearFloor || levels.Level(i + 1, i + 1 + EdgeHops) < floor - NearFloor) continue;
            yield return new Stretch(new Seconds(from * SoundAnalysis.HopSeconds), new Seconds(i * SoundAnalysis.HopSeconds));
        }

        bool IsUnder(int hop) => !levels.IsSilent(hop) && levels.PowerAround(hop, 1) < under;
    }
}
