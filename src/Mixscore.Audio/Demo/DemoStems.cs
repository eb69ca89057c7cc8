using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Makes stems to try a plan with, where there are none: voices, instruments and engines that play their parts as
/// players do (nobody holds a level, microphones differ, the wind blows, links delay and drop). 48 kHz, 24 bits, mono.
/// The same plan, score and source give the same bytes, on any number of cores.
/// </summary>
public static class DemoStems
{
    private const double TailSeconds = 2, HighestPeak = -1.5;    // dBFS

    // How loud the stems of the first, second and third site stand, LUFS: voices, instruments, engines. Our own, no source.
    private static readonly double[] Voices = [-19, -22, -17], Instruments = [-22, -18, -26], Engines = [-21, -26, -18];
    private static readonly double[] Floors = [-58, -60, -64];   // dBFS

    /// <summary>Makes the stems that are missing.</summary>
    /// <param name="plan">Its sources name a part each.</param>
    /// <param name="performance">What the parts play.</param>
    /// <param name="timeline">The piece as the plan times it.</param>
    /// <param name="progress">Told how much is done, 0 to 1; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work; stems that are finished stay.</param>
    /// <returns>The stems that were made, as the plan names them, in its order.</returns>
    /// <exception cref="InputException">MX241 a source whose stem is missing names no part, or one that the score does not have.</exception>
    /// <exception cref="UnavailableException">MX221 a stem cannot be written.</exception>
    public static Task<IReadOnlyList<string>> EnsureAsync(MixPlan plan, Performance performance, Timeline timeline,
        IProgress<double>? progress = null, CancellationToken cancellation = default) =>
        Task.Run(() => Ensure(plan, performance, timeline, Environment.ProcessorCount, progress, cancellation), cancellation);

    internal static IReadOnlyList<string> Ensure(MixPlan plan, Performance performance, Timeline timeline, int threads,
        IProgress<double>? progress, CancellationToken cancellation)
    {
        var missing = plan.Sources.Where(source => !File.Exists(PathOf(plan, source))).ToList();
        if (missing.Count == 0) return [];
        var parts = PartsOf(missing, performance);
        var drops = Drops(plan, performance, timeline);
        var done = 0;
        var told = new Lock();
        try
        {
            Parallel.For(0, missing.Count, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = threads }, i =>
            {
                Make(PathOf(plan, missing[i]), missing[i], SiteOf(plan, missing[i]), parts[i], timeline, drops, cancellation);
                lock (told) progress?.Report((double)++done / missing.Count);
            });
        }
        catch (AggregateException e) when (e.InnerExceptions.OfType<UnavailableException>().FirstOrDefault() is { } unavailable)
        {
            throw unavailable;
        }
        return [.. missing.Select(source => source.Stem)];
    }

    private static void Make(string path, Source source, int site, PerformedPart part, Timeline timeline, List<Stretch>[] drops, CancellationToken cancellation)
    {
        var noise = new SeededNoise(Seed(source.Name));
        var delay = source.Site.Link.Delay.Value;
        var frames = (int)Math.Ceiling((timeline.Duration.Value + delay + TailSeconds) * Player.Rate / Player.Stride) * Player.Stride;
        var sound = new float[frames];
        Player player = source.Role switch
        {
            Role.Voice => new VoicePlayer(part, timeline, noise),
            Role.Instrument => new InstrumentPlayer(part, timeline, noise),
            _ => new EnginePlayer(part, timeline, noise),
        };
        player.Play(sound, delay);
        cancellation.ThrowIfCancellationRequested();
        Scale(sound, Choose(source.Role switch { Role.Voice => Voices, Role.Instrument => Instruments, _ => Engines }, site));
        Weather.Add(sound, Choose(Floors, site), noise);
        foreach (var drop in drops[site]) LinkDrops.Apply(sound, drop, delay, noise);
        cancellation.ThrowIfCancellationRequested();
        using var writer = new StemWriter(path, new SoundFormat(Player.Rate, 1));
        writer.Write(sound);
        writer.Finish();
    }

    /// <summary>Brings what is played to a loudness, or as near as its peaks allow.</summary>
    private static void Scale(float[] sound, double loudness)
    {
        var meter = new LoudnessMeter(new SoundFormat(Player.Rate, 1), Measure.Integrated | Measure.SamplePeak);
        meter.Push(sound);
        if (meter.Integrated is not { } integrated || meter.SamplePeak is not { } peak) return;
        var gain = (float)Decibels.Min(new Lufs(loudness) - integrated, Decibels.Of(HighestPeak) - peak).ToGain();
        foreach (ref var sample in sound.AsSpan()) sample *= gain;
    }

    private static double Choose(double[] figures, int site) => figures[site % figures.Length];

    private static string PathOf(MixPlan plan, Source source) => Path.Combine(plan.Folder, source.Stem);

    private static int SiteOf(MixPlan plan, Source source) =>
        Math.Max(0, plan.Sites.Select(site => site.Name).ToList().IndexOf(source.Site.Name));

    private static List<PerformedPart> PartsOf(List<Source> sources, Performance performance)
    {
        var (parts, faults) = (new List<PerformedPart>(), new List<Fault>());
        foreach (var source in sources)
            if (Expected.PartOf(source, performance) is { } part) parts.Add(part);
            else
                faults.Add(new Fault("MX241", source.Place,
                    source.Part is null ? $"{source.Name} names no part, so no demo stem can be made for it" : $"{source.Name}: the score has no part \"{source.Part}\"",
                    $"name one of its parts: {string.Join(", ", performance.Parts.Select(part => $"{part.Id} ({part.Name})"))}"));
        return faults.Count > 0 ? throw new InputException(faults) : parts;
    }

    private static List<Stretch>[] Drops(MixPlan plan, Performance performance, Timeline timeline)
    {
        var lines = Enumerable.Range(0, Math.Max(1, plan.Sites.Count)).Select(site => (IReadOnlyList<IReadOnlyList<PerformedNote>>)
            [.. plan.Sources.Where(source => SiteOf(plan, source) == site).Select(source => Expected.PartOf(source, performance)?.Notes ?? [])]);
        return LinkDrops.Of([.. lines], timeline);
    }

    /// <summary>FNV-1a of 64 bits (Fowler, Noll and Vo; constants as published), so that a source sounds the same beside others.</summary>
    private static ulong Seed(string name)
    {
        var hash = 14695981039346656037;
        foreach (var letter in name) hash = (hash ^ letter) * 1099511628211;
        return hash;
    }
}
