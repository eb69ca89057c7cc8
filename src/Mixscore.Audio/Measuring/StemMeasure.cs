using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Measures the stems of a plan.</summary>
public static class StemMeasure
{
    /// <summary>Where the cache of a project lies.</summary>
    public static string CacheFolder(MixPlan plan) => Path.Combine(plan.Folder, "out", "cache");

    /// <summary>Measures every stem in one pass, several at once; what was measured before comes from the cache.</summary>
    /// <param name="stems">The stems.</param>
    /// <param name="timeline">The piece as the plan times it.</param>
    /// <param name="cacheFolder">Where analyses are kept, by the content of the stems.</param>
    /// <param name="performance">
    /// What the parts play; with it, sources that name a part are known to rest where that rests, which tells a soft
    /// engine from a floor and a dropped link from a gate. <c>null</c> where that is not known.
    /// </param>
    /// <param name="progress">Told how much is done, 0 to 1; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>In the order of the stems.</returns>
    /// <exception cref="InputException">Stems turned out to be faulty; all of them are told.</exception>
    /// <exception cref="UnavailableException">Stems cannot be read.</exception>
    public static IReadOnlyList<MeasuredStem> Measure(StemSet stems, Timeline timeline, string cacheFolder, Performance? performance = null,
        IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        var cache = new AnalysisCache(cacheFolder);
        var done = new Progress(stems.Stems.Sum(stem => stem.File.Frames), progress);
        var measured = new MeasuredStem[stems.Stems.Count];
        var (wrong, missing) = (new IReadOnlyList<Fault>[measured.Length], new IReadOnlyList<Fault>[measured.Length]);
        Parallel.For(0, measured.Length, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = Environment.ProcessorCount }, i =>
        {
            var stem = stems.Stems[i];
            try
            {
                measured[i] = Of(stem, cache.Of(stem.File, done.Add, cancellation), timeline, Expected.Of(stem, timeline, performance));
            }
            catch (InputException e)
            {
                wrong[i] = e.Faults;
            }
            catch (UnavailableException e)
            {
                missing[i] = e.Faults;
            }
        });
        var faults = wrong.Where(found => found is not null).SelectMany(found => found).ToList();
        var absent = missing.Where(found => found is not null).SelectMany(found => found).ToList();
        if (faults.Count > 0) throw new InputException([.. faults, .. absent]);
        if (absent.Count > 0) throw new UnavailableException(absent);
        return measured;
    }

    internal static MeasuredStem Of(SourceStem stem, SoundAnalysis analysis, Timeline timeline, IReadOnlyList<Stretch>? expected)
    {
        var track = analysis.ToTrack();
        var levels = new HopLevels(track, analysis.Silences);
        var integrated = analysis.Integrated is { } figure ? new Lufs(figure) : (Lufs?)null;
        var thresholds = PlayThresholds.Of(levels, integrated, expected);
        var drops = Dropouts.Find(levels, analysis.Silences, thresholds, expected);
        var active = integrated is null ? [] : Clean(Stretch.Without(Activity.Find(levels, thresholds), drops), drops);
        return new MeasuredStem(stem, new StemMeasurement
        {
            Source = stem.Source.Name,
            Integrated = integrated,
            Range = analysis.Range is { } range ? Decibels.Of(range) : null,
            TruePeak = analysis.TruePeak is { } peak ? Decibels.Of(peak) : null,
            NoiseFloor = NoiseFloor.Of(track, active, analysis.Silences, drops),
            Active = active,
            Drops = drops,
            Bars = [.. timeline.Bars.Select(bar => new BarLoudness(bar.Index, Loudness(track, active, Heard(bar, timeline, stem.Delay))))],
        }, track);
    }

    /// <summary>A sliver beside a dropout is the edge of the cut, or the crack of a receiver that comes back, and not play.</summary>
    private static IReadOnlyList<Stretch> Clean(IReadOnlyList<Stretch> active, IReadOnlyList<Stretch> drops)
    {
        const double Sliver = 0.1, Near = 0.03;
        return [.. active.Where(stretch => stretch.Length.Value >= Sliver
            || !drops.Any(drop => Math.Abs((drop.To - stretch.From).Value) < Near || Math.Abs((drop.From - stretch.To).Value) < Near))];
    }

    private static Stretch Heard(PlayedBar bar, Timeline timeline, Seconds delay) =>
        new(timeline.Tempo.SecondsAt(bar.Start) + delay, timeline.Tempo.SecondsAt(bar.End) + delay);

    private static Lufs? Loudness(EnergyTrack track, IReadOnlyList<Stretch> active, Stretch bar)
    {
        const double Least = 0.05;
        var (energy, time) = (0.0, 0.0);
        foreach (var stretch in active)
        {
            var overlap = stretch.Overlap(bar).Value;
            if (overlap <= 0) continue;
            var from = Math.Max(stretch.From.Value, bar.From.Value);
            energy += track.MeanSquare(from, from + overlap) * overlap;
            time += overlap;
        }
        return time >= Least ? Lufs.FromMeanSquare(energy / time) : null;
    }

    private sealed class Progress(long whole, IProgress<double>? told)
    {
        private readonly Lock _lock = new();
        private long _done;

        internal void Add(int frames)
        {
            lock (_lock)
            {
                _done += frames;
                told?.Report((double)_done / whole);
            }
        }
    }
}
