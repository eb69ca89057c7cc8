using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// What the fit takes for the loudness of a stem: loudness over a window, usually 3 s, centred on the moment, of the active time
/// in that window alone, so that a player who enters after a rest is not taken for a soft one.
/// </summary>
public static class ActiveLoudness
{
    /// <summary>The trace of a stem.</summary>
    /// <param name="stem">The stem, measured.</param>
    /// <param name="reference">0 LU.</param>
    /// <param name="every">The distance between samples, in seconds.</param>
    /// <param name="window">How long the window is.</param>
    /// <returns>A sample each <paramref name="every"/> seconds of the stem; <c>null</c> where the source is not active.</returns>
    public static LoudnessTrace Of(MeasuredStem stem, Lufs reference, double every, Seconds window)
    {
        var hops = stem.Energy.Hops;
        var hop = stem.Energy.HopSeconds;
        var half = Math.Max(1, (int)Math.Round(window.Value / hop / 2));
        var active = stem.Measurement.ActiveHops(hops.Length, hop);
        var energy = new double[hops.Length + 1];
        var time = new int[hops.Length + 1];
        for (var i = 0; i < hops.Length; i++)
        {
            energy[i + 1] = energy[i] + (active[i] ? hops[i] : 0);
            time[i + 1] = time[i] + (active[i] ? 1 : 0);
        }

        var samples = new List<LoudnessSample>();
        var step = Math.Max(1, (int)Math.Round(every / hop));
        for (var i = 0; i < hops.Length; i += step)
        {
            var (from, to) = (Math.Max(0, i - half), Math.Min(hops.Length, i + half));
            var loudness = active[i] && time[to] > time[from] ? Lufs.FromMeanSquare((energy[to] - energy[from]) / (time[to] - time[from])) : null;
            samples.Add(new LoudnessSample(new Seconds(i * hop), loudness - reference));
        }
        return new LoudnessTrace(samples);
    }
}
