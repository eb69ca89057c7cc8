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

    /// <summary>The mean square of an odd number of hops around one: in the order of levels, and had without a logarithm.</summary>
    internal double PowerAround(int hop, int hops) => track.HopsMeanSquare(hop - hops / 2, hop + hops / 2 + 1);

    /// <summary>The mean level from one hop to another, that one excluded.</summary>
    internal double Level(int from, int to) => LevelOf(track.HopsMeanSquare(from, to));

    /// <summary>The level of a mean square.</summary>
    internal static double LevelOf(double power) => Math.Max(Silence, Lufs.FromMeanSquare(power)?.Value ?? Silence);

    /// <summary>The mean square of a level; that of silence is 0.</summary>
    internal static double PowerOf(double level) => level <= Silence ? 0 : new Lufs(level).ToMeanSquare();

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
