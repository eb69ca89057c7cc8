using System.Collections.Concurrent;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>What one pass over a sound gives: all that its samples are needed for, and nothing that a plan could change.</summary>
/// <param name="Duration">Seconds.</param>
/// <param name="Integrated">LUFS.</param>
/// <param name="Range">LU.</param>
/// <param name="TruePeak">dBTP.</param>
/// <param name="Energies">K-weighted mean squares of hops of 10 ms.</param>
/// <param name="DirectCurrent">How far it stands off zero, a ratio to full scale.</param>
/// <param name="Silences">Digitally silent stretches of 50 ms or more, in order.</param>
/// <param name="Clipped">Stretches at full scale, in order.</param>
/// <param name="Bursts">Noise of a failing link, in order.</param>
internal sealed record SoundAnalysis(double Duration, double? Integrated, double? Range, double? TruePeak, double DirectCurrent, float[] Energies, Stretch[] Silences, Stretch[] Clipped, Stretch[] Bursts)
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
        var finders = files.Select(_ => new ConcurrentBag<SampleFinders>()).ToArray();
        ISound[] sounds = [.. files.Select((file, i) => new ForgivingSound(new StemSound(file, first => Listener(finders[i], file, first)), (frame, e) => failed(i, frame, e)))];
        var figures = WholeSounds.Measure(sounds, Asked, told: told, cancellation: cancellation);
        var analyses = new SoundAnalysis[files.Count];
        Parallel.For(0, analyses.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
            analyses[i] = Of(files[i], figures[i], [.. finders[i]], BurstsIn(files[i], [.. finders[i]], e => failed(i, 0, e))));
        return analyses;
    }

    /// <summary>Few places are read once more for them.</summary>
    private static Stretch[] BurstsIn(StemFile file, IReadOnlyCollection<SampleFinders> finders, Action<Exception> failed)
    {
        try
        {
            return NoiseBursts.Find(file, HissTrack.Finish(file.Format, file.Frames, [.. finders.Select(finder => finder.Hiss)]));
        }
        catch (Exception e) when (e is InputException or UnavailableException)
        {
            failed(e);
            return [];
        }
    }

    private static SoundAnalysis Of(StemFile file, LoudnessFigures figures, IReadOnlyCollection<SampleFinders> finders, Stretch[] bursts) => new(
        file.Duration.Value, figures.Integrated?.Value, figures.Range?.Value, figures.TruePeak?.Value,
        Audio.DirectCurrent.Finish(file.Frames, [.. finders.Select(finder => finder.DirectCurrent)]),
        Array.ConvertAll(figures.ToEnergyTrack().Hops.ToArray(), energy => (float)energy),
        SilenceFinder.Finish([.. finders.Select(finder => finder.Silences)]),
        ClipFinder.Finish([.. finders.Select(finder => finder.Clips)]),
        bursts);

    private static Action<ReadOnlySpan<float>> Listener(ConcurrentBag<SampleFinders> finders, StemFile file, long firstFrame)
    {
        var finder = new SampleFinders(new(file.Format, firstFrame), new(file.Format, firstFrame), new(file.Format, file.Frames, firstFrame), new(file.Format, firstFrame));
        finders.Add(finder);
        return finder.Push;
    }

    internal EnergyTrack ToTrack() => EnergyTrack.FromHops(HopSeconds, Array.ConvertAll(Energies, energy => (double)energy));

    /// <summary>All that looks at the samples of a segment as they are read.</summary>
    private sealed record SampleFinders(SilenceFinder Silences, ClipFinder Clips, DirectCurrent DirectCurrent, HissTrack Hiss)
    {
        public void Push(ReadOnlySpan<float> samples)
        {
            Silences.Push(samples);
            Clips.Push(samples);
            DirectCurrent.Push(samples);
            Hiss.Push(samples);
        }
    }
}
