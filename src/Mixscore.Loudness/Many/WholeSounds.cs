using System.Collections.Concurrent;

namespace Mixscore.Loudness;

/// <summary>
/// Measures whole sounds, many at once. Source: ITU-R BS.1770-5; EBU Tech 3341 and 3342, 2023. Each is cut into segments on whole seconds; a segment's channels take lanes of their own,
/// so that lanes and cores stay full whatever the number of sounds.
/// </summary>
/// <remarks>Figures agree with those of a <see cref="LoudnessMeter"/> that hears the sound from its start: loudness to 1e-9 LU,
/// peaks to the bit. They do not depend on the number of threads.</remarks>
public static class WholeSounds
{
    // A warm-up of 0.2 s before each segment costs 2 % of the shortest and little of the longest.
    private const int ShortestSeconds = 10, LongestSeconds = 60;

    // So many crews that threads which end early find more to do.
    private const int CrewsPerThread = 8;

    /// <summary>Measures sounds from their first to their last frame.</summary>
    /// <param name="sounds">Rates, channels and lengths may differ.</param>
    /// <param name="measures">What will be read.</param>
    /// <param name="threads">How many threads may work at once; 0 for one a core.</param>
    /// <param name="told">Told, from any of the threads, how many frames more are done; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>In the order of the sounds.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of threads is negative.</exception>
    /// <exception cref="AggregateException">Readers failed; what they threw is within.</exception>
    public static IReadOnlyList<LoudnessFigures> Measure(IReadOnlyList<ISound> sounds, Measure measures = Loudness.Measure.All,
        int threads = 0, Action<long>? told = null, CancellationToken cancellation = default) =>
        Measure(sounds, measures, threads, LaneWork.Best, told, cancellation);

    internal static IReadOnlyList<LoudnessFigures> Measure(IReadOnlyList<ISound> sounds, Measure measures, int threads,
        LaneWork work, Action<long>? told, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(sounds);
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        var options = new ParallelOptions { MaxDegreeOfParallelism = threads == 0 ? Environment.ProcessorCount : threads, CancellationToken = cancellation };
        var strands = Cut(sounds);
        // One crew at a time to each thread: they are few and long.
        var crews = Partitioner.Create(Crews(strands), EnumerablePartitionerOptions.NoBuffering);
        Parallel.ForEach(crews, options, crewOf =>
        {
            using var crew = new Crew(crewOf, measures, work);
            crew.Run(told, cancellation);
        });
        var bySound = strands.ToLookup(strand => strand.SoundIndex);
        var figures = new LoudnessFigures[sounds.Count];
        Parallel.For(0, figures.Length, options, i =>
            figures[i] = HasLanes(sounds[i]) ? Gather(bySound[i], new(sounds[i].Format, measures)) : OneByOne(sounds[i], measures, told, cancellation));
        return figures;
    }

    private static bool HasLanes(ISound sound) => sound.Format.Channels <= LaneFilter.Width;

    /// <summary>A sound of more channels than a bank has lanes.</summary>
    private static LoudnessFigures OneByOne(ISound sound, Measure measures, Action<long>? told, CancellationToken cancellation)
    {
        var meter = new LoudnessMeter(sound.Format, measures);
        using var reader = sound.OpenAt(0);
        for (var left = sound.Frames; left > 0;)
        {
            cancellation.ThrowIfCancellationRequested();
            var count = (int)Math.Min(left, LaneBank.MostFrames);
            meter.Push(reader.Read(count));
            told?.Invoke(count);
            left -= count;
        }
        return meter.Figures;
    }

    private static List<Strand> Cut(IReadOnlyList<ISound> sounds)
    {
        var laneSeconds = sounds.Where(HasLanes).Sum(sound => (double)sound.Frames / sound.Format.SampleRate * sound.Format.Channels);
        // The same on every machine, so that figures are too.
        const int Threads = 4;
        var seconds = (int)Math.Clamp(laneSeconds / (LaneFilter.Width * Threads * CrewsPerThread), ShortestSeconds, LongestSeconds);
        var strands = new List<Strand>();
        for (var i = 0; i < sounds.Count; i++)
        {
            if (!HasLanes(sounds[i])) continue;
            var grid = new HopGrid(sounds[i].Format.SampleRate);
            var hops = Hops(grid, sounds[i].Frames);
            var known = new KnownPeak();
            for (long hop = 0; hop < hops; hop += seconds * HopGrid.HopsPerSecond)
                strands.Add(new Strand(sounds[i], i, known, hop, Math.Min(hops, hop + seconds * HopGrid.HopsPerSecond)));
        }
        return strands;
    }

    /// <summary>Hops that a sound has, the last perhaps not whole.</summary>
    private static long Hops(HopGrid grid, long frames)
    {
        var hops = frames * HopGrid.HopsPerSecond / grid.SampleRate;
        while (grid.Start(hops) < frames) hops++;
        while (hops > 0 && grid.Start(hops - 1) >= frames) hops--;
        return hops;
    }

    /// <summary>
    /// Strands of one rate and of like length sit together, as many as have lanes; those of one sound in turn, since what the first
    /// ones find of its peak helps the later ones.
    /// </summary>
    private static List<Strand[]> Crews(List<Strand> strands)
    {
        var crews = new List<Strand[]>();
        foreach (var group in strands.GroupBy(strand => strand.Format.SampleRate))
        {
            var crew = new List<Strand>();
            var lanes = 0;
            foreach (var strand in group.OrderByDescending(strand => strand.Sums.Length).ThenBy(strand => strand.Format.Channels).ThenBy(strand => strand.FirstHop))
            {
                if (lanes + strand.Format.Channels > LaneFilter.Width) Close();
                crew.Add(strand);
                lanes += strand.Format.Channels;
            }
            Close();

            void Close()
            {
                if (crew.Count > 0) crews.Add([.. crew]);
                crew.Clear();
                lanes = 0;
            }
        }
        return crews;
    }

    private static LoudnessFigures Gather(IEnumerable<Strand> strands, LoudnessFigures figures)
    {
        var grid = new HopGrid(figures.Format.SampleRate);
        foreach (var strand in strands)
        {
            figures.AddPeaks(strand.SamplePeak, strand.TruePeak);
            figures.AddInvalid(strand.Invalid);
            var at = strand.Start;
            for (var hop = 0; hop < strand.Sums.Length; hop++)
            {
                var length = grid.Frames(hop, hop + 1);
                if (at + length <= strand.End) figures.AddHop(strand.Sums[hop]);
                else figures.Open(strand.Sums[hop], (int)(strand.End - at));
                at += length;
            }
        }
        return figures;
    }
}
