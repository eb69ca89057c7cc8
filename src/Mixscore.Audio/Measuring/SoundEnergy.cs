using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>The energy of a whole file over time.</summary>
public static class SoundEnergy
{
    /// <summary>Measures a file from its first to its last frame.</summary>
    /// <exception cref="InputException">The file is faulty.</exception>
    /// <exception cref="UnavailableException">The file cannot be read.</exception>
    public static EnergyTrack Of(StemFile file, CancellationToken cancellation = default)
    {
        Exception? fault = null;
        var analysis = SoundAnalysis.OfAll([file], (_, _, problem) => Interlocked.CompareExchange(ref fault, problem, null), _ => { }, cancellation)[0];
        return fault is null ? analysis.ToTrack() : throw fault;
    }
}
