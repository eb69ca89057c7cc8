using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Finds the noise of a failing radio link: stretches of 4.5 ms to 2.5 s in which near-white noise breaks into a feed, over what is
/// played, in place of it or where nobody plays. That a receiver whose squelch opens, or that decodes garbage, sounds so is common
/// practice, no source; so are the figures, which were tried on the demo's players, on made sounds and on synthetic speech.
/// </summary>
/// <remarks>
/// <para>
/// A burst is told by five things together. Its hiss (<see cref="HissTrack"/>) stands 6 dB or more over all that lies within 20 ms
/// of it, and 10 dB over what the stem hisses for nine tenths of its time (<see cref="BurstCandidates"/>): pink, white or an
/// engine's noise throughout does neither. It is there, and gone, within 3 ms, and its quarters lie within 6 dB
/// (<see cref="BurstEdges"/>): breath, fades, drums that ring on, sung consonants do not. And its spectrum between
/// 500 Hz and 7.5 kHz is flat to within 5 dB and the chance of its length, also in the valleys between a voice's partials
/// (<see cref="BurstSpectrum"/>): an s or sh has little under 2 kHz, a note's valleys are empty, an engine's puffs slope.
/// </para>
/// <para>
/// Where five bursts or more fill a tenth of a stem, they are taken for its own sound, as a steam engine's puffs
/// are. What is not found: bursts with less than 20 ms between them, bursts that fade in or out, noise that is much softer
/// than what the feed hisses beside it, and noise longer than 2.5 s.
/// </para>
/// </remarks>
internal static class NoiseBursts
{
    private const float LeastHiss = 1e-10f;     // -100 dB; under that is digital silence
    private const float LeastOverOwn = 10;      // 10 dB
    private const double MostOwnPart = 0.1;
    private const int FewestOwn = 5;

    /// <summary>The bursts, in order and apart, with edges right to half a millisecond or so.</summary>
    /// <param name="file">The stem.</param>
    /// <param name="hiss">Its whole <see cref="HissTrack"/>.</param>
    /// <exception cref="InputException">As at <see cref="StemReader.Read"/>.</exception>
    /// <exception cref="UnavailableException">As at <see cref="StemFile.Open"/> and <see cref="StemReader.Read"/>.</exception>
    internal static Stretch[] Find(StemFile file, float[] hiss)
    {
        var candidates = BurstCandidates.In(hiss);
        if (candidates.Count == 0) return [];
        using var reader = file.Open();
        var look = new BurstLook(reader);
        var found = candidates.Select(candidate => look.At(candidate.From, candidate.To)).OfType<(Stretch Where, float Hiss)>().ToList();
        if (found.Count == 0) return [];
        var over = LeastOverOwn * OwnHiss(hiss, candidates);
        Stretch[] bursts = [.. found.Where(burst => burst.Hiss >= over).Select(burst => burst.Where)];
        return bursts.Length >= FewestOwn && bursts.Sum(burst => burst.Length.Value) >= MostOwnPart * file.Duration.Value ? [] : bursts;
    }

    /// <summary>What the stem hisses for nine tenths of its sounding time, candidates left out; 0 where less than a tenth of a second is left.</summary>
    private static float OwnHiss(float[] hiss, List<(int From, int To)> candidates)
    {
        const int Least = 40;
        var rest = new List<float>(hiss.Length);
        var at = 0;
        foreach (var (from, to) in candidates.Append((hiss.Length + 1, hiss.Length + 1)))
        {
            rest.AddRange(hiss[Math.Min(at, from - 1)..(from - 1)].Where(power => power > LeastHiss));
            at = to + 1;
        }
        rest.Sort();
        return rest.Count < Least ? 0 : rest[rest.Count / 10];
    }
}
