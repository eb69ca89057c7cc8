using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>What a feed sounds like when nobody plays, as <see cref="StemMeasurement.NoiseFloor"/> defines it.</summary>
internal static class NoiseFloor
{
    private const double WindowSeconds = 0.4;    // momentary: ITU-R BS.1770-5, Annex 1; EBU Tech 3341, 2.2
    private const double LeastRestSeconds = 0.5;
    private const double LowPart = 0.05;

    internal static Lufs? Of(EnergyTrack track, IReadOnlyList<Stretch> active, IReadOnlyList<Stretch> silences, IReadOnlyList<Stretch> drops)
    {
        var whole = new Stretch(Seconds.Zero, new Seconds(track.Seconds));
        var sounding = Stretch.Without(Stretch.Without([whole], drops), silences);
        var rests = Levels(track, Stretch.Without(sounding, active));
        if (rests.Count * SoundAnalysis.HopSeconds >= LeastRestSeconds) return rests[rests.Count / 2];
        var all = Levels(track, sounding);
        return all.Count > 0 ? all[(int)(LowPart * all.Count)] : null;
    }

    /// <summary>Momentary loudness on every hop whose whole window lies in one of the stretches, softest first.</summary>
    private static List<Lufs> Levels(EnergyTrack track, IEnumerable<Stretch> stretches)
    {
        var levels = new List<Lufs>();
        foreach (var stretch in stretches)
            for (var at = stretch.From.Value; at + WindowSeconds <= stretch.To.Value; at += track.HopSeconds)
                if (track.Loudness(at, at + WindowSeconds) is { } level) levels.Add(level);
        levels.Sort();
        return levels;
    }
}
