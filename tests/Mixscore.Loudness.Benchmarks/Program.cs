using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Loudness.Benchmarks;
using Mixscore.Loudness.Outside;

// Compares the meter with libebur128 in one run, by turns: see tests/bench.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var seconds = (int)(60 * Option("--minutes", 10));
var stemCount = (int)Option("--stems", 12);
var rounds = (int)Option("--rounds", 3);
var peerStems = Math.Min(stemCount, (int)Option("--peer-stems", stemCount));
var ofProcessor = args.SkipWhile(arg => arg != "--clock").Skip(1).FirstOrDefault() == "cpu";
var cores = Environment.ProcessorCount;
const int Block = Material.Rate / 10;

Console.WriteLine($"{stemCount} stems of {seconds} s, {Material.Rate} Hz; {rounds} rounds by turns, medians; {cores} cores; "
    + $"vectors of {(Vector512.IsHardwareAccelerated ? 512 : Vector256.IsHardwareAccelerated ? 256 : 128)} bits; libebur128 on {peerStems} of the stems, one thread; {(ofProcessor ? "processor time" : "the wall's clock")}");
Console.WriteLine("measured by both: momentary, short-term, integrated, range, true peak");
foreach (var (name, make) in new (string, Func<int, int, float[]>)[] { ("played stems", Material.Played), ("white noise", Material.Noise), ("steady tones", Material.Tone) })
    Compare(name, [.. Enumerable.Range(0, stemCount).AsParallel().AsOrdered().Select(stem => make(seconds, stem))], files: name == "played stems");
return;

void Compare(string name, float[][] stems, bool files)
{
    long all = stems.Sum(stem => (long)stem.Length), peer = stems.Take(peerStems).Sum(stem => (long)stem.Length);
    ISound[] held = [.. stems.Select(stem => new HeldSound(default, stem))];
    var folder = Directory.CreateTempSubdirectory("mixscore-bench-");
    try
    {
        var clock = new Stopwatches(ofProcessor);
        clock.Add("floor", all, () => Floor(stems));
        clock.Add("live", all, () => Live(stems));
        clock.Add("whole", all, () => WholeSounds.Measure(held, threads: 1));
        clock.Add("always", all, () => Always(held));
        if (!ofProcessor) clock.Add("whole, all cores", all, () => WholeSounds.Measure(held, threads: cores));
        if (files)
        {
            ISound[] read = [.. stems.Select((stem, i) => Written(stem, Path.Combine(folder.FullName, $"{i}.wav")))];
            clock.Add("from files", all, () => WholeSounds.Measure(read, threads: 1));
            if (!ofProcessor) clock.Add("from files, all cores", all, () => WholeSounds.Measure(read, threads: cores));
        }
        if (!ofProcessor)
        {
            clock.Add("sums", all, Sums);
            clock.Add("sums, all cores", all, () => Crowd(Sums));
        }
        clock.Add("peer as a meter", peer, () => Peer(stems, read: true));
        clock.Add("peer offline", peer, () => Peer(stems, read: false));
        clock.Run(rounds);
        Print(name, clock, files);
    }
    finally
    {
        folder.Delete(recursive: true);
    }
}

void Print(string name, Stopwatches clock, bool files)
{
    Console.WriteLine();
    Console.WriteLine($"{name,-24} {"ns/sample",10} {"x real time",12} {"of the floor",13} {"x peer as meter",16} {"x peer offline",15}");
    foreach (var task in new[] { "live", "whole", "whole, all cores", "from files", "from files, all cores" }.Where(clock.Has))
        Console.WriteLine($"{task,-24} {clock[task],10:F3} {1e9 / Material.Rate / clock[task],12:F0} {clock.Ratio(task, "floor"),13:F2} "
            + $"{clock.Ratio("peer as a meter", task),16:F1} {clock.Ratio("peer offline", task),15:F1}");
    foreach (var task in new[] { "floor", "peer as a meter", "peer offline" })
        Console.WriteLine($"{task,-24} {clock[task],10:F3} {1e9 / Material.Rate / clock[task],12:F0}");
    Console.WriteLine($"speed against always interpolating: {clock.Ratio("always", "whole"):F3}");
    if (files) Console.WriteLine($"from files, against from memory: {clock.Ratio("whole", "from files"):F2} on one core");
    if (clock.Has("sums")) Console.WriteLine($"what all cores give here of {cores} times one, in multiplications and additions alone: {cores * clock["sums"] / clock["sums, all cores"]:F2}");
    if (clock.Has("from files, all cores")) Console.WriteLine($"and on all cores: {clock.Ratio("whole, all cores", "from files, all cores"):F2}");
}

// The least that anything which looks at every sample can cost.
static void Floor(float[][] stems)
{
    foreach (var stem in stems)
    {
        Vector<float> a = default, b = default, c = default, d = default;
        var vectors = MemoryMarshal.Cast<float, Vector<float>>(stem);
        for (var i = 0; i + 3 < vectors.Length; i += 4)
        {
            a += vectors[i] * vectors[i];
            b += vectors[i + 1] * vectors[i + 1];
            c += vectors[i + 2] * vectors[i + 2];
            d += vectors[i + 3] * vectors[i + 3];
        }
        if (Vector.Sum(a + b + c + d) < 0) throw new InvalidOperationException("squares are not negative");
    }
}

// Nothing but arithmetic in registers: cores of a rented machine may be two sides of one.
static void Sums()
{
    Vector<double> factor = new(1 - 1e-9), term = new(1e-9);
    Vector<double> a = Vector<double>.One, b = a, c = a, d = a, e = a, f = a, g = a, h = a;
    for (var i = 0; i < 50_000_000; i++)
    {
        a = Vector.FusedMultiplyAdd(a, factor, term);
        b = Vector.FusedMultiplyAdd(b, factor, term);
        c = Vector.FusedMultiplyAdd(c, factor, term);
        d = Vector.FusedMultiplyAdd(d, factor, term);
        e = Vector.FusedMultiplyAdd(e, factor, term);
        f = Vector.FusedMultiplyAdd(f, factor, term);
        g = Vector.FusedMultiplyAdd(g, factor, term);
        h = Vector.FusedMultiplyAdd(h, factor, term);
    }
    if (!(Vector.Sum(a + b + c + d + e + f + g + h) > 0)) throw new InvalidOperationException("ones do not sum up to less");
}

void Crowd(Action work)
{
    Thread[] others = [.. Enumerable.Range(1, cores - 1).Select(_ => new Thread(() => work()))];
    foreach (var other in others) other.Start();
    work();
    foreach (var other in others) other.Join();
}

// All stems together, 100 ms at a time, momentary and short-term read after each.
static void Live(float[][] stems)
{
    var meter = new StemsMeter([.. stems.Select(_ => default(SoundFormat))]);
    var planar = new float[stems.Length * Block];
    for (var at = 0; at + Block <= stems[0].Length; at += Block)
    {
        for (var stem = 0; stem < stems.Length; stem++) stems[stem].AsSpan(at, Block).CopyTo(planar.AsSpan(stem * Block));
        meter.Push(planar);
        for (var stem = 0; stem < stems.Length; stem++) _ = (meter[stem].Momentary, meter[stem].ShortTerm);
    }
    for (var stem = 0; stem < stems.Length; stem++) _ = (meter[stem].Integrated, meter[stem].Range, meter[stem].TruePeak);
}

static void Always(ISound[] sounds) =>
    WholeSounds.Measure(sounds, Measure.All, threads: 1, LaneWork.Best with { Interpolates = Interpolates.Everywhere }, told: null, CancellationToken.None);

void Peer(float[][] stems, bool read)
{
    foreach (var stem in stems.Take(peerStems))
    {
        using var meter = new Ebur128(1, Material.Rate);
        for (var at = 0; at + Block <= stem.Length; at += Block)
        {
            meter.Push(stem.AsSpan(at, Block));
            if (read) _ = (meter.MomentaryLoudness, meter.ShortTermLoudness);
        }
        _ = (meter.Integrated, meter.LoudnessRange, meter.TruePeak);
    }
}

static ISound Written(float[] stem, string path)
{
    using (var writer = new StemWriter(path, default))
    {
        writer.Write(stem);
        writer.Finish();
    }
    return new StemSound(StemFile.Read(path));
}

double Option(string name, double otherwise)
{
    var at = Array.IndexOf(args, name);
    return at < 0 ? otherwise : double.Parse(args[at + 1], CultureInfo.InvariantCulture);
}
