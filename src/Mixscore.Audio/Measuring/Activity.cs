using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Finds where a feed plays.</summary>
internal static class Activity
{
    /// <summary>Shorter gaps are breaths and articulation, not rests. Common practice, no source.</summary>
    internal static readonly Seconds Bridge = new(0.6);

    private const int HoldHops = 3, ReachHops = 11;
    private const double ShortestSeconds = 0.05;

    /// <summary>Stretches in order, apart by at least the bridge, with digital silence in them.</summary>
    internal static IReadOnlyList<Stretch> Find(HopLevels levels, PlayThresholds thresholds)
    {
        var found = new List<Stretch>();
        var (holding, reaching) = (HopLevels.PowerOf(thresholds.Holds), HopLevels.PowerOf(thresholds.Reaches));
        for (var i = 0; i < levels.Count;)
        {
            if (!Holds(i))
            {
                i++;
                continue;
            }
            var (from, reaches) = (i, false);
            for (; i < levels.Count && Holds(i); i++) reaches = reaches || levels.PowerAround(i, ReachHops) >= reaching;
            var stretch = new Stretch(new Seconds(from * SoundAnalysis.HopSeconds), new Seconds(i * SoundAnalysis.HopSeconds));
            if (reaches && stretch.Length.Value >= ShortestSeconds) found.Add(stretch);
        }
        return Stretch.Joined(found, Bridge);

        bool Holds(int hop) => !levels.IsSilent(hop) && levels.PowerAround(hop, HoldHops) >= holding;
    }
}
