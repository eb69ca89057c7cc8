using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>Levels of a track around the middle of each hop, in LUFS, with digital silence at a floor of its own.</summary>
/// <param name="track">The track.</param>
/// <param name="silences">Digital silence, and noise of the link, which is no more the feed than that is.</param>
internal sealed class HopLevels(EnergyTrack track, IReadOnlyList<Stretch> silences)
{
    /// <summary>Stands for silence: softer than any sound of 24 bits.</summary>
    internal const double Silence = -200;

    private readonly bool[] _silent = Mark(track, silences);

    internal int Count => track.Hops.Length;

    /// <summary>Whether a hop touches digital silence or noise of the link.</summary>
    internal bool IsSilent(int hop) => _silent[hop];

    internal static double Middle(int hop) => (hop + 0.5) * SoundAnalysis.HopSeconds;

    /// <summary>The level of an odd number of hops around one.</summary>
    internal double Around(int hop, int hops) => Level(hop - hops / 2, hop + hops / 2 + 1);

    /// <summary>The mean level from one hop to another, that one excluded.</summary>
    internal double Level(int from, int to) =>
        Math.Max(Silence, track.Loudness(from * SoundAnalysis.HopSeconds, to * SoundAnalysis.HopSeconds)?.Value ?? Silence);

    private static bool[] Mark(EnergyTrack track, IReadOnlyList<Stretch> silences)
    {
        var silent = new bool[track.Hops.Length];
        foreach (var silence in silences)
        {
            var to = Math.Min(silent.Length, (int)Math.Ceiling(silence.To.Value / SoundAnalysis.HopSeconds));
            for (var i = (int)(silence.From.Value / SoundAnalysis.HopSeconds); i < to; i++) silent[i] = true;
        }
        return silent;
    }
}
