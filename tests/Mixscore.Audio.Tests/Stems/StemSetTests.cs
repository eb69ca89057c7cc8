using Mixscore.Score;

namespace Mixscore.Audio.Tests.Stems;

public sealed class StemSetTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Unequal_rates_name_the_files_and_their_rates()
    {
        foreach (var (name, rate) in new[] { ("a.wav", 48_000), ("b.wav", 44_100), ("c.wav", 48_000) })
            Sound.Write(_folder[name], Sound.Tone(440, 0.1, 0.1, rate), rate);
        var site = Piece.Site("north", 0);
        var fault = Assert.Single(Assert.Throws<InputException>(() =>
            StemSet.Open(Piece.Plan(_folder, ("x", site, "a.wav"), ("y", site, "b.wav"), ("z", site, "c.wav")), Piece.Of(1))).Faults);
        Assert.Equal(("MX210", 11), (fault.Code, fault.Place.Line));
        Assert.Contains("48000 Hz in a.wav, c.wav; 44100 Hz in b.wav", fault.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void All_faults_are_told_at_the_lines_of_the_plan()
    {
        File.WriteAllText(_folder["bad.wav"], "no");
        Sound.Write(_folder["good.wav"], new float[10]);
        var site = Piece.Site("north", 0);
        var plan = Piece.Plan(_folder, ("x", site, "none.wav"), ("y", site, "good.wav"), ("z", site, "bad.wav"));
        var faults = Assert.Throws<InputException>(() => StemSet.Open(plan, Piece.Of(1))).Faults;
        Assert.Equal([("MX202", 12), ("MX201", 10)], faults.Select(fault => (fault.Code, fault.Place.Line)));
        Assert.All(faults, fault => Assert.Equal("p.mix.yaml", fault.Place.File));
    }

    [Fact]
    public void Stems_that_are_only_missing_are_unavailable()
    {
        var site = Piece.Site("north", 0);
        var faults = Assert.Throws<UnavailableException>(() =>
            StemSet.Open(Piece.Plan(_folder, ("x", site, "none.wav"), ("y", site, "stems/none.wav")), Piece.Of(1))).Faults;
        Assert.Equal([10, 11], faults.Select(fault => fault.Place.Line));
    }

    //  s   0    4    8    12         bars of four seconds; the sound of bar 2 is in the stem until 8 + delay
    //      |-1--|-2--|-3--|
    [Theory]
    [InlineData(12.1, 0.1, null)]
    [InlineData(12.0, 0.1, "3")]
    [InlineData(8.2, 0.1, "3")]
    [InlineData(8.0, 0.1, "2")]
    [InlineData(1.0, 0.0, "1")]
    public void A_stem_that_ends_early_is_a_warning_that_names_the_bar(double seconds, double delay, string? bar)
    {
        Sound.Write(_folder["a.wav"], new float[(int)(seconds * 48_000)]);
        var set = StemSet.Open(Piece.Plan(_folder, ("x", Piece.Site("north", delay), "a.wav")), Piece.Of(3));
        Assert.Equal(bar is null ? 0 : 1, set.Warnings.Count);
        if (bar is null) return;
        Assert.Equal(("MX211", Severity.Warning, 10), (set.Warnings[0].Code, set.Warnings[0].Severity, set.Warnings[0].Place.Line));
        Assert.Contains($"from bar {bar} on", set.Warnings[0].Remedy, StringComparison.Ordinal);
    }
}
