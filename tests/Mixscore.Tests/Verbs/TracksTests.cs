using System.Text.Json;

namespace Mixscore.Tests.Verbs;

/// <summary>What <c>write</c> makes for headphones, on a small project.</summary>
public class TracksTests
{
    // 120 quarters a minute, two bars of 4/4 counted: 4 s.
    [Fact]
    public async Task The_click_needs_no_desk_and_no_stems()
    {
        using var project = new SmallProject();
        Directory.Delete(project.PathOf("stems"), recursive: true);
        var ended = await SmallProject.Run("write", project.Plan, "--only", "click");
        Assert.True(ended.Code == 0, ended.Error);
        foreach (var file in (string[])["click.wav", "click.mid"]) Assert.True(File.Exists(project.PathOf("out", file)), file);
        var written = JsonDocument.Parse(await File.ReadAllTextAsync(project.PathOf("out", "write.json"), TestContext.Current.CancellationToken)).RootElement;
        Assert.Equal(4, written.GetProperty("leadSeconds").GetDouble(), 1e-9);
        Assert.Equal(["click.wav", "click.mid"], written.GetProperty("files").EnumerateArray().Select(file => file.GetString()));
        Assert.Equal(28, Audio.StemFile.Read(project.PathOf("out", "click.wav")).Duration.Value, 1e-9);
    }

    [Fact]
    public async Task Timecode_goes_on_a_second_channel()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("write", project.Plan, "--only", "click", "--ltc", "30df", "--ltc-at", "10:00:00;00");
        Assert.True(ended.Code == 0, ended.Error);
        Assert.Equal(2, Audio.StemFile.Read(project.PathOf("out", "click.wav")).Format.Channels);
    }

    [Theory]
    [InlineData("--ltc", "26")]
    [InlineData("--ltc", "25", "--ltc-at", "01:00:00:25")]
    [InlineData("--ltc", "30df", "--ltc-at", "00:01:00:00")]
    public async Task A_timecode_that_is_none_is_refused(params string[] options)
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run(["write", project.Plan, "--only", "click", .. options]);
        Assert.Equal(2, ended.Code);
        Assert.Contains("MX393", ended.Error);
    }
}
