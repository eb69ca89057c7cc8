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
        await File.AppendAllTextAsync(project.Plan, "call: { folder: words }\n", TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("write", project.Plan, "--only", "click");
        Assert.True(ended.Code == 0, ended.Error);
        foreach (var file in (string[])["click.wav", "click.mid"]) Assert.True(File.Exists(project.PathOf("out", file)), file);
        var written = JsonDocument.Parse(await File.ReadAllTextAsync(project.PathOf("out", "write.json"), TestContext.Current.CancellationToken)).RootElement;
        Assert.Equal(4, written.GetProperty("leadSeconds").GetDouble(), 1e-9);
        Assert.Equal(["click.wav", "click.mid", "call.wav"], written.GetProperty("files").EnumerateArray().Select(file => file.GetString()));
        Assert.Equal(28, Audio.StemFile.Read(project.PathOf("out", "click.wav")).Duration.Value, 1e-9);
    }

    // Recordings of a person: 2, 3 and 4 are there, the rest of the twelve bars and letter A are not.
    [Fact]
    public async Task A_call_from_recordings_says_which_are_missing()
    {
        using var project = new SmallProject();
        await File.AppendAllTextAsync(project.Plan, "call: { folder: words }\n", TestContext.Current.CancellationToken);
        foreach (var word in (string[])["2", "3", "4"]) project.WriteTone($"words/{word}.wav", -20, 0.3);
        var ended = await SmallProject.Run("write", project.Plan, "--only", "call");
        Assert.True(ended.Code == 0, ended.Error);
        Assert.Contains("Not recorded, and so not called: 1.wav, letter-A.wav, 5.wav", ended.Output);
        var call = JsonDocument.Parse(await File.ReadAllTextAsync(project.PathOf("out", "write.json"), TestContext.Current.CancellationToken)).RootElement.GetProperty("calls")[0];
        // Two bars are counted, "one" not among them; then bars 2, 3 and 4.
        Assert.Equal(["2", "3", "4", "2", "3", "4", "2", "3", "4"], call.GetProperty("words").EnumerateArray().Select(word => word.GetProperty("text").GetString()));
        Assert.Equal(28, Audio.StemFile.Read(project.PathOf("out", "call.wav")).Duration.Value, 1e-9);
    }

    [Fact]
    public async Task A_sheet_is_written_on_the_paper_that_is_asked_for()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("write", project.Plan, "--only", "sheet", "--paper", "letter", "--landscape", "--desk", project.PathOf("osc.desk.yaml"));
        Assert.True(ended.Code == 0, ended.Error);
        Assert.Contains("/MediaBox[0 0 792 612]", System.Text.Encoding.Latin1.GetString(await File.ReadAllBytesAsync(project.PathOf("out", "sheet.pdf"), TestContext.Current.CancellationToken)));
        Assert.False(File.Exists(project.PathOf("out", "automation.osc")));
        Assert.Equal(0, (await SmallProject.Run("write", project.Plan, "--only", "sheet", "--source", "near.voice")).Code);
        Assert.True(File.Exists(project.PathOf("out", "sheet-near.voice.csv")));
        Assert.Contains("MX394", (await SmallProject.Run("write", project.Plan, "--only", "sheet", "--source", "near.tuba")).Error);
        Assert.Contains("MX395", (await SmallProject.Run("write", project.Plan, "--only", "sheet", "--paper", "papyrus")).Error);
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
