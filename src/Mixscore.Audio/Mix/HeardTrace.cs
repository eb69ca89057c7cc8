using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>What a listener hears of one stem, as energy over time, without rendering it.</summary>
public static class HeardTrace
{
    /// <summary>Points at which the gain is taken in a hop; the mean is as right as the gains are, to 0.004 dB.</summary>
    private const int PointsPerHop = 32;

    /// <summary>A stem's energy through its ride: each hop times the ride's mean power gain over that hop.</summary>
    /// <param name="stem">The stem's energy.</param>
    /// <param name="ride">Its gains.</param>
    /// <param name="tempo">When the ride's vertices come by the click.</param>
    /// <param name="delay">How much later than the click the stem's sound, and so the ride, is.</param>
    /// <returns>Energy on the same hops, in the stem's own time.</returns>
    /// <remarks>
    /// Exact for a sound that is even within each hop, and for a steady gain. Where the gain moves, hop and gain are
    /// averaged apart: against the meter on the rendered sound, 3 s loudness differs by less than 0.05 LU at up to 24 dB/s.
    /// </remarks>
    public static EnergyTrack Of(EnergyTrack stem, Ride ride, TempoMap tempo, Seconds delay)
    {
        var hops = stem.Hops;
        var heard = new double[hops.Length];
        var pointSeconds = stem.HopSeconds / PointsPerHop;
        var gains = new GainCurve(ride, tempo, delay - new Seconds(pointSeconds / 2), 1 / pointSeconds);   // at the points' middles
        Span<float> points = stackalloc float[PointsPerHop];
        for (var i = 0; i < hops.Length; i++)
        {
            gains.Fill((long)i * PointsPerHop, points);
            var power = 0.0;
            foreach (var gain in points) power += (double)gain * gain;
            heard[i] = hops[i] * power / PointsPerHop;
        }
        return EnergyTrack.FromHops(stem.HopSeconds, heard);
    }
}
