using System.Collections.Concurrent;
using System.Globalization;
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
    /// <param name="hashes">What the stems hash to, where that was begun; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>In the order of the stems.</returns>
    /// <exception cref="InputException">Stems turned out to be faulty; all of them are told.</exception>
    /// <exception cref="UnavailableException">Stems cannot be read.</exception>
    public static IReadOnlyList<MeasuredStem> Measure(StemSet stems, Timeline timeline, string cacheFolder, Performance? performance = null,
        IProgress<double>? progress = null, StemHashes? hashes = null, CancellationToken cancellation = default)
    {
        var faults = new ConcurrentDictionary<int, (long Frame, Exception Why)>();
        var (cache, done) = (new AnalysisCache(cacheFolder, hashes ?? new StemHashes()), new Progress(stems.Stems.Sum(stem => stem.File.Frames), progress));
        var (entries, measured) = (new string[stems.Stems.Count], new MeasuredStem?[stems.Stems.Count]);
        // What was kept is gone through at once: meanwhile the other threads read the next stems.
        Parallel.For(0, measured.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
        {
            try
            {
                (entries[i], var kept) = cache.Find(stems.Stems[i].File);
                if (kept is null) return;
                measured[i] = Measured(i, kept);
                done.Add(stems.Stems[i].File.Frames);
            }
            catch (UnavailableException e)
            {
                faults[i] = (0, e);
            }
        });
        int[] left = [.. Enumerable.Range(0, measured.Length).Where(i => measured[i] is null && !faults.ContainsKey(i))];
        var made = SoundAnalysis.OfAll([.. left.Select(i => stems.Stems[i].File)], (i, frame, e) =>
            faults.AddOrUpdate(left[i], (frame, e), (_, known) => known.Frame <= frame ? known : (frame, e)), done.Add, cancellation);
        Parallel.For(0, left.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
        {
            if (faults.ContainsKey(left[i])) return;
            cache.Keep(entries[left[i]], made[i]);
            measured[left[i]] = Measured(left[i], made[i]);
        });
        Refuse(faults);
        return measured!;

        MeasuredStem Measured(int i, SoundAnalysis analysis) => Of(stems.Stems[i], analysis, timeline, Expected.Of(stems.Stems[i], timeline, performance));
    }

    /// <summary>What is wrong with stems that can still be used: MX214 clipped, MX215 far off zero, MX216 noise of the link in them.</summary>
    /// <param name="measured">The stems.</param>
    public static IReadOnlyList<Fault> Warnings(IEnumerable<MeasuredStem> measured)
    {
        var farOff = Decibels.Of(-40);
        var warnings = new List<Fault>();
        foreach (var (stem, figures, _) in measured)
        {
            if (figures.Clipped is [var first, ..])
                warnings.Add(new Fault("MX214", stem.Source.Place, $"{figures.Source} is clipped in {figures.Clipped.Count} {(figures.Clipped.Count == 1 ? "place" : "places")}, first at {first.From}", "record it softer; no fader mends that"));
            if (figures.DirectCurrent > farOff)
                warnings.Add(new Fault("MX215", stem.Source.Place, $"{figures.Source} stands off zero by {figures.DirectCurrent} of full scale", "put a high-pass before its recorder, or look at its microphone"));
            if (figures.Bursts is [var burst, ..])
                warnings.Add(new Fault("MX216", stem.Source.Place, $"noise of the link breaks into {figures.Source} {(figures.Bursts.Count == 1 ? "once" : $"in {figures.Bursts.Count} places")}, first at {burst.From} for {Milliseconds(burst.Length)}", "look at the receiver's aerial and frequency; its levels are measured without that noise"));
        }
        return warnings;

        static string Milliseconds(Seconds length) => string.Create(CultureInfo.InvariantCulture, $"{1000 * length.Value:0} ms");
    }

    private static void Refuse(ConcurrentDictionary<int, (long Frame, Exception Why)> faults)
    {
        var inOrder = faults.OrderBy(fault => fault.Key).Select(fault => fault.Value.Why).ToList();
        var wrong = inOrder.OfType<InputException>().SelectMany(e => e.Faults).ToList();
        var absent = inOrder.OfType<UnavailableException>().SelectMany(e => e.Faults).ToList();
        if (wrong.Count > 0) throw new InputException([.. wrong, .. absent]);
        if (absent.Count > 0) throw new UnavailableException(absent);
    }

    internal static MeasuredStem Of(SourceStem stem, SoundAnalysis analysis, Timeline timeline, IReadOnlyList<Stretch>? expected)
    {
        var track = analysis.ToTrack();
        var levels = new HopLevels(track, [.. analysis.Silences, .. analysis.Bursts]);
        var integrated = analysis.Integrated is { } figure ? new Lufs(figure) : (Lufs?)null;
        var thresholds = PlayThresholds.Of(levels, integrated, expected);
        var drops = Dropouts.Find(levels, analysis.Silences, thresholds, expected);
        var lost = Stretch.Joined(drops.Concat(analysis.Bursts).OrderBy(stretch => stretch.From), Seconds.Zero);
        var active = integrated is null ? [] : Clean(Stretch.Without(Activity.Find(levels, thresholds), lost), lost);
        return new MeasuredStem(stem, new StemMeasurement
        {
            Source = stem.Source.Name,
            Integrated = integrated,
            Range = analysis.Range is { } range ? Decibels.Of(range) : null,
            TruePeak = analysis.TruePeak is { } peak ? Decibels.Of(peak) : null,
            DirectCurrent = Decibels.FromGain(analysis.DirectCurrent),
            Clipped = analysis.Clipped,
            NoiseFloor = NoiseFloor.Of(track, active, analysis.Silences, lost),
            Active = active,
            Drops = drops,
            Bursts = analysis.Bursts,
            Bars = [.. timeline.Bars.Select(bar => new BarLoudness(bar.Index, Loudness(track, active, Heard(bar, timeline, stem.Delay))))],
        }, track);
    }

    /// <summary>A sliver beside a dropout or a burst is the edge of it, or the crack of a receiver that comes back, and not play.</summary>
    private static IReadOnlyList<Stretch> Clean(IReadOnlyList<Stretch> active, IReadOnlyList<Stretch> lost)
    {
        const double Sliver = 0.1, Near = 0.03;
        return [.. active.Where(stretch => stretch.Length.Value >= Sliver
            || !lost.Any(one => Math.Abs((one.To - stretch.From).Value) < Near || Math.Abs((one.From - stretch.To).Value) < Near))];
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

        internal void Add(long frames)
        {
            lock (_lock)
            {
                _done += frames;
                told?.Report((double)_done / whole);
            }
        }
    }
}
