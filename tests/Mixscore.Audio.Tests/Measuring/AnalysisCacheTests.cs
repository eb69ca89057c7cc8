using Mixscore.Score;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class AnalysisCacheTests : IDisposable
{
    private readonly Folder _folder = new();
    private bool _wasKept;

    public void Dispose() => _folder.Dispose();

    private SoundAnalysis Of(string name)
    {
        var (cache, file) = (new AnalysisCache(_folder["cache"], new StemHashes()), StemFile.Read(_folder[name]));
        var (entry, kept) = cache.Find(file);
        _wasKept = kept is not null;
        if (kept is not null) return kept;
        var made = SoundAnalysis.OfAll([file], (_, _, e) => throw e, _ => { }, TestContext.Current.CancellationToken)[0];
        cache.Keep(entry, made);
        return made;
    }

    private static void Same(SoundAnalysis a, SoundAnalysis b)
    {
        Assert.Equal((a.Duration, a.Integrated, a.Range, a.TruePeak, a.DirectCurrent), (b.Duration, b.Integrated, b.Range, b.TruePeak, b.DirectCurrent));
        Assert.Equal(a.Energies, b.Energies);
        Assert.Equal(a.Silences, b.Silences);
        Assert.Equal(a.Clipped, b.Clipped);
        Assert.Equal(a.Bursts, b.Bursts);
    }

    [Fact]
    public void What_was_analysed_comes_back_the_same()
    {
        new Feed(5, -60).Plays(1, 4, -20).Drops(2, 2.5).Write(_folder["a.wav"]);
        var (made, kept) = (Of("a.wav"), Of("a.wav"));
        Assert.Single(made.Silences);
        Assert.True(_wasKept);
        Same(made, kept);
        new Feed(5, null).Write(_folder["a.wav"]);
        Same(Of("a.wav"), Of("a.wav"));
    }

    [Fact]
    public void The_content_decides_and_not_the_name_or_the_date()
    {
        new Feed(3, -60).Plays(1, 2, -20).Write(_folder["a.wav"]);
        var first = Of("a.wav");
        File.Copy(_folder["a.wav"], _folder["b.wav"]);
        File.SetLastWriteTimeUtc(_folder["b.wav"], new DateTime(2001, 1, 1, 0, 0, 0, DateTimeKind.Utc));
        Same(first, Of("b.wav"));
        Assert.Single(Directory.GetFiles(_folder["cache"]));

        // Same name, size and date, another sound: measured anew.
        var date = File.GetLastWriteTimeUtc(_folder["a.wav"]);
        new Feed(3, -60).Plays(1, 2, -26).Write(_folder["a.wav"]);
        File.SetLastWriteTimeUtc(_folder["a.wav"], date);
        Assert.NotEqual(first.Integrated, Of("a.wav").Integrated);
        Assert.Equal(2, Directory.GetFiles(_folder["cache"]).Length);
    }

    // Fuzz: a damaged entry is as good as none.
    [Fact]
    public void A_damaged_entry_is_made_again()
    {
        new Feed(1, -60).Plays(0.2, 0.8, -20).Write(_folder["a.wav"]);
        var made = Of("a.wav");
        var entry = Directory.GetFiles(_folder["cache"]).Single();
        var whole = File.ReadAllBytes(entry);
        foreach (var bytes in new[] { [], whole[..3], whole[..40], whole[..^1], [.. whole, 0], [.. "MXAN"u8, .. new byte[60].Select(_ => (byte)255)] })
        {
            File.WriteAllBytes(entry, bytes);
            Same(made, Of("a.wav"));
            Assert.Equal(whole, File.ReadAllBytes(entry));
        }
    }

    [Fact]
    public void A_cache_that_cannot_be_written_is_done_without()
    {
        new Feed(1, -60).Write(_folder["a.wav"]);
        File.WriteAllText(_folder["cache"], "a file, not a folder");
        Same(Of("a.wav"), Of("a.wav"));
    }

    [Fact]
    public void A_whole_set_is_measured_and_its_faults_are_told_together()
    {
        var timeline = Piece.Of(1);
        foreach (var name in new[] { "a.wav", "b.wav", "c.wav" }) new Feed(4, -60).Plays(1, 3, -20).Write(_folder[name]);
        var site = Piece.Site("north", 0);
        var set = StemSet.Open(Piece.Plan(_folder, ("x", site, "a.wav"), ("y", site, "b.wav"), ("z", site, "c.wav")), timeline);
        var measured = StemMeasure.Measure(set, timeline, _folder["cache"], cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(["x", "y", "z"], measured.Select(one => one.Measurement.Source));
        File.Delete(_folder["a.wav"]);
        File.WriteAllBytes(_folder["b.wav"], new byte[10]);
        var faults = Assert.Throws<InputException>(() => StemMeasure.Measure(set, timeline, _folder["cache"], cancellation: TestContext.Current.CancellationToken)).Faults;
        Assert.Equal(["MX202", "MX201"], faults.Select(fault => fault.Code));
    }
}
