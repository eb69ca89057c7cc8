using System.Security.Cryptography;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Demo;

public sealed class DemoStemsTests : IDisposable
{
    private static readonly string[] Stems = ["s/nv.wav", "s/nh.wav", "s/ne.wav", "s/sc.wav"];
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private static string[] Hashes(Folder folder) => [.. Stems.Select(stem => Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(folder[stem]))))];

    private static IReadOnlyList<string> Make(Folder folder, int threads = 2) =>
        DemoStems.Ensure(Parts.Plan(folder), Parts.Performance, Parts.Timeline, threads, null, TestContext.Current.CancellationToken);

    [Fact]
    public void The_same_bytes_every_time_on_one_core_or_two()
    {
        using var other = new Folder();
        Assert.Equal(Stems, Make(_folder, threads: 1));
        Assert.Equal(Stems, Make(other, threads: 2));
        var hashes = Hashes(_folder);
        Assert.Equal(hashes, Hashes(other));
        Assert.Equal(Stems.Length, hashes.Distinct().Count());
    }

    [Fact]
    public async Task Only_what_is_missing_is_made()
    {
        var cancellation = TestContext.Current.CancellationToken;
        Directory.CreateDirectory(_folder["s"]);
        await File.WriteAllTextAsync(_folder["s/nh.wav"], "a person's own", cancellation);
        var told = new List<double>();
        Assert.Equal(["s/nv.wav", "s/ne.wav", "s/sc.wav"],
            await DemoStems.EnsureAsync(Parts.Plan(_folder), Parts.Performance, Parts.Timeline, new Told(told), cancellation));
        Assert.Equal("a person's own", await File.ReadAllTextAsync(_folder["s/nh.wav"], cancellation));
        Assert.Equal([1 / 3.0, 2 / 3.0, 1], told);
        Assert.Empty(await DemoStems.EnsureAsync(Parts.Plan(_folder), Parts.Performance, Parts.Timeline, null, cancellation));
        Assert.Equal(["nh.wav", "ne.wav", "nv.wav", "sc.wav"], _folder.Names.OrderBy(name => name == "nh.wav" ? 0 : 1));
    }

    // The stems must be what the measuring can find its way in: notes where they are written and the link's delay later.
    [Fact]
    public void Stems_play_what_is_written_a_delay_late_and_do_not_clip()
    {
        Make(_folder);
        var set = StemSet.Open(Parts.Plan(_folder), Parts.Timeline);
        Assert.Empty(set.Warnings);
        Assert.All(set.Stems, stem => Assert.Equal((48_000, 1, SampleEncoding.Pcm24), (stem.File.Format.SampleRate, stem.File.Format.Channels, stem.File.Encoding)));
        var measured = StemMeasure.Measure(set, Parts.Timeline, _folder["cache"], Parts.Performance, cancellation: TestContext.Current.CancellationToken)
            .ToDictionary(one => one.Measurement.Source, one => one.Measurement);
        Assert.All(measured.Values, one => Assert.InRange(one.TruePeak!.Value.Value, -30, -1));
        Near([(4, 9), (16, 18)], Playing(measured["north.voice"]), 0.05);
        Near([(0, 8), (16, 20)], Playing(measured["north.horn"]), 0.05);
        Near([(0, 16)], Playing(measured["north.engine"]), 0.05);
        Near([(0, 8), (16, 20)], Playing(measured["south.cello"]), 0.2);
        // Both of a site's links: all of its feeds drop at once, and none of the other's.
        Assert.Equal(measured["north.voice"].Drops, measured["north.horn"].Drops);
        Assert.Equal(measured["north.voice"].Drops, measured["north.engine"].Drops);
        Assert.Single(measured["north.voice"].Drops);
        Assert.NotEqual(measured["north.voice"].Drops, measured["south.cello"].Drops);
        Assert.All(measured.Values.SelectMany(one => one.Drops), drop => Assert.InRange(drop.Length.Value, 0.4, 1.2));
        Assert.All(measured.Values, one => Assert.InRange(one.NoiseFloor!.Value.Value, -72, -54));

        // 0.2 s for breath and a player's own sense of time; what sounds runs down for up to 0.7 s, an engine longest.
        static void Near((double From, double To)[] written, IReadOnlyList<Stretch> found, double delay)
        {
            Assert.True(written.Length == found.Count, string.Join(' ', found));
            foreach (var (w, f) in written.Zip(found))
            {
                Assert.InRange(f.From.Value, w.From + delay - 0.2, w.From + delay + 0.2);
                Assert.InRange(f.To.Value, w.To + delay - 0.2, w.To + delay + 0.7);
            }
        }

        static IReadOnlyList<Stretch> Playing(StemMeasurement one) =>
            Stretch.Joined(one.Active.Concat(one.Drops.Where(drop => one.Active.Any(active => active.To == drop.From || Math.Abs(active.To.Value - drop.From.Value) < 0.05))).OrderBy(s => s.From), new Seconds(0.1));
    }

    [Fact]
    public void Sources_without_a_part_are_faults_at_their_lines()
    {
        var plan = Parts.Plan(_folder);
        plan = plan with { Sources = [plan.Sources[0] with { Part = null }, plan.Sources[1], plan.Sources[2] with { Part = "P9" }] };
        var faults = Assert.Throws<InputException>(() => DemoStems.Ensure(plan, Parts.Performance, Parts.Timeline, 1, null, CancellationToken.None)).Faults;
        Assert.Equal([("MX241", 10), ("MX241", 12)], faults.Select(fault => (fault.Code, fault.Place.Line)));
        Assert.All(faults, fault => Assert.Contains("P2 (North horn)", fault.Remedy, StringComparison.Ordinal));
        Assert.Empty(_folder.Names);
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_unavailable()
    {
        File.WriteAllText(_folder["s"], "a file, not a folder");
        Assert.Equal("MX221", Assert.Throws<UnavailableException>(() => Make(_folder)).Faults[0].Code);
    }

    private sealed class Told(List<double> values) : IProgress<double>
    {
        public void Report(double value) => values.Add(value);
    }
}
