using System.Collections.Concurrent;
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

    private const Measure Asked = Measure.Integrated | Measure.Range | Measure.TruePeak | Measure.EnergyTrack;

    /// <summary>Analyses files from their first to their last frame, all at once.</summary>
    /// <param name="files">The files.</param>
    /// <param name="failed">Told which of them failed, from which frame on it was being read, and why; perhaps of several such
    /// frames, from several threads.</param>
    /// <param name="told">Told, from any thread, how many frames more are done, all files together.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>In the order of the files; of one that failed there is an analysis of no worth.</returns>
    internal static IReadOnlyList<SoundAnalysis> OfAll(IReadOnlyList<StemFile> files, Action<int, long, Exception> failed, Action<long> told, CancellationToken cancellation)
    {
        var finders = files.Select(_ => new ConcurrentBag<SilenceFinder>()).ToArray();
        ISound[] sounds = [.. files.Select((file, i) => new ForgivingSound(new StemSound(file, first => Listener(finders[i], file, first)), (frame, e) => failed(i, frame, e)))];
        var figures = WholeSounds.Measure(sounds, Asked, told: told, cancellation: cancellation);
        return [.. files.Select((file, i) => new SoundAnalysis(file.Duration.Value, figures[i].Integrated?.Value, figures[i].Range?.Value, figures[i].TruePeak?.Value,
            Array.ConvertAll(figures[i].ToEnergyTrack().Hops.ToArray(), energy => (float)energy), SilenceFinder.Finish(finders[i])))];
    }

    private static Action<ReadOnlySpan<float>> Listener(ConcurrentBag<SilenceFinder> finders, StemFile file, long firstFrame)
    {
        var finder = new SilenceFinder(file.Format, firstFrame);
        finders.Add(finder);
        return finder.Push;
    }

    internal EnergyTrack ToTrack() => EnergyTrack.FromHops(HopSeconds, Array.ConvertAll(Energies, energy => (double)energy));
}
