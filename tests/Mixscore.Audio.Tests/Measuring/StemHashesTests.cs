using Mixscore.Planning;

namespace Mixscore.Audio.Tests.Measuring;

public sealed class StemHashesTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private MixPlan Plan(params string[] stems)
    {
        var sources = stems.Select((stem, i) => $"  hall.s{i}: {{ role: voice, stem: {stem}, strip: {i + 1} }}\n");
        File.WriteAllText(_folder["a.mix.yaml"], $"title: A\nscore: a.musicxml\nreference: -23 LUFS\nsites:\n  hall: {{}}\nsources:\n{string.Concat(sources)}levels: {{}}\n");
        return PlanReader.Read(_folder["a.mix.yaml"]);
    }

    // XXH3 specification (xxHash 0.8), XXH3_128bits of no bytes with seed 0; the value from memory of its sanity checks.
    [Fact]
    public void Nothing_hashes_to_what_the_algorithm_says()
    {
        File.WriteAllBytes(_folder["a.wav"], []);
        Assert.Equal("99aa06d3014798d86001c324468d497f", new StemHashes().Of(_folder["a.wav"]));
    }

    [Fact]
    public void A_file_is_read_once_for_one_look_and_again_for_the_next()
    {
        File.WriteAllBytes(_folder["a.wav"], [1, 2, 3]);
        var look = StemHashes.Begin(Plan("a.wav", "a.wav"));
        var hash = look.Of(_folder["a.wav"]);
        File.WriteAllBytes(_folder["a.wav"], [1, 2, 4]);
        Assert.Equal(hash, look.Of(_folder["a.wav"]));
        Assert.NotEqual(hash, new StemHashes().Of(_folder["a.wav"]));
    }

    [Fact]
    public void A_stem_that_is_not_there_is_told_to_who_asks_for_it_and_hinders_no_other()
    {
        File.WriteAllBytes(_folder["b.wav"], [1]);
        var look = StemHashes.Begin(Plan("a.wav", "b.wav"));
        Assert.Equal("MX201", Assert.Single(Assert.Throws<UnavailableException>(() => look.Of(_folder["a.wav"])).Faults).Code);
        Assert.Equal(32, look.Of(_folder["b.wav"]).Length);
    }
}
