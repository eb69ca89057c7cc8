using System.Text.Json;

namespace Mixscore.Tests.Verbs;

/// <summary>The second example: 24 sources, free stretches, no repeats. It has no stems: what needs none is tried.</summary>
public sealed class SecondPieceTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore").FullName;

    public SecondPieceTests()
    {
        var plan = File.ReadAllText(Repository.PathOf("examples", "winter-signals.mix.yaml"));
        File.WriteAllText(Path.Combine(_folder, "winter-signals.mix.yaml"), plan.Replace("../scores/", "", StringComparison.Ordinal));
        File.Copy(Repository.PathOf("scores", "winter-signals.musicxml"), Path.Combine(_folder, "winter-signals.musicxml"));
    }

    // One bar of 4/4 is counted at 54; every beat of the 48 bars clicks once, the held one too.
    [Fact]
    public async Task Its_click_follows_free_bars_and_fermatas()
    {
        var read = JsonDocument.Parse((await SmallProject.Run("read", _folder, "--json")).Output).RootElement;
        Assert.Equal(48, read.GetProperty("barsPlayed").GetInt32());
        Assert.Equal(24, read.GetProperty("parts").GetArrayLength());
        Assert.Equal(0, (await SmallProject.Run("write", _folder, "--only", "click")).Code);
        var lead = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(_folder, "out", "write.json"), TestContext.Current.CancellationToken)).RootElement.GetProperty("leadSeconds").GetDouble();
        Assert.Equal(4 * 60 / 54.0, lead, 1e-6);
        Assert.Equal(lead + read.GetProperty("durationSeconds").GetDouble(), Audio.StemFile.Read(Path.Combine(_folder, "out", "click.wav")).Duration.Value, 0.0001);
    }

    [Fact]
    public async Task Its_sites_are_lined_up()
    {
        var aligned = JsonDocument.Parse((await SmallProject.Run("align", _folder, "--json")).Output).RootElement;
        Assert.Equal(24, aligned.GetProperty("strips").GetArrayLength());
        Assert.Equal(4, aligned.GetProperty("pictures").GetArrayLength());
        Assert.Equal(0, aligned.GetProperty("strips").EnumerateArray().Min(strip => strip.GetProperty("delayMs").GetDouble()));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
