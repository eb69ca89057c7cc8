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
        var rests = Powers(track, Stretch.Without(sounding, active));
        if (rests.Count * SoundAnalysis.HopSeconds >= LeastRestSeconds) return Lufs.FromMeanSquare(rests[rests.Count / 2]);
        var all = Powers(track, sounding);
        return all.Count > 0 ? Lufs.FromMeanSquare(all[(int)(LowPart * all.Count)]) : null;
    }

    /// <summary>Momentary mean squares, but for silence, on every hop whose whole window lies in one of the stretches, softest first.</summary>
    private static List<double> Powers(EnergyTrack track, IEnumerable<Stretch> stretches)
    {
        var powers = new List<double>();
        foreach (var stretch in stretches)
            for (var at = stretch.From.Value; at + WindowSeconds <= stretch.To.Value; at += track.HopSeconds)
                if (track.MeanSquare(at, at + WindowSeconds) is > 0 and var power) powers.Add(power);
        powers.Sort();
        return powers;
    }
}
