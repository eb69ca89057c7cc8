using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>What one pass over a sound gives: all that its samples are needed for, and nothing that a plan could change.</summary>
/// <param name="Duration">Seconds.</param>
/// <param name="Integrated">LUFS.</param>
/// <param name="Range">LU.</param>
/// <param name="TruePeak">dBTP.</param>
/// <param name="Energies">K-weighted mean squares of hops of 10 ms.</param>
/// <param name="Silences">Digitally silent stretches of 50 ms or more, in order.</param>
internal sealed record SoundAnalysis(double Duration, double? Integrated, double? Range, double? TruePeak, float[] Energies, Stretch[] Silences)
{
    internal const double HopSeconds = 0.01;

    /// <summary>Analyses a file from its first to its last frame.</summary>
    /// <param name="file">The file.</param>
    /// <param name="told">Told how many frames more are done.</param>
    /// <param name="cancellation">Stops the work.</param>
    internal static SoundAnalysis Of(StemFile file, Action<int> told, CancellationToken cancellation)
    {
        using var reader = file.Open();
        var channels = file.Format.Channels;
        var meter = new LoudnessMeter(file.Format, Measure.Integrated | Measure.Range | Measure.TruePeak | Measure.EnergyTrack);
        var silences = new SilenceFinder(file.Format);
        var block = new float[16_384 * channels];
        while (reader.Read(block) is > 0 and var samples)
        {
            cancellation.ThrowIfCancellationRequested();
            meter.Push(block.AsSpan(0, samples));
            silences.Push(block.AsSpan(0, samples));
            told(samples / channels);
        }
        var energies = Array.ConvertAll(meter.ToEnergyTrack().Hops.ToArray(), energy => (float)energy);
        return new SoundAnalysis(file.Duration.Value, meter.Integrated?.Value, meter.Range?.Value, meter.TruePeak?.Value, energies, silences.Finish());
    }

    internal EnergyTrack ToTrack() => EnergyTrack.FromHops(HopSeconds, Array.ConvertAll(Energies, energy => (double)energy));
}
