using System.Text.Json;
using Mixscore.Audio;
using Mixscore.Loudness;

namespace Mixscore.Tests.Verbs;

/// <summary>The small project's own mix, taken for a recording of it. Invented.</summary>
public sealed class CheckRecordingTests : IDisposable
{
    private readonly SmallProject _project = new();

    public void Dispose() => _project.Dispose();

    [Fact]
    public async Task A_recording_stands_beside_what_the_marks_ask_in_sum_and_decides_nothing()
    {
        Assert.Equal(0, (await SmallProject.Run("check", _project.Plan)).Code);
        var recording = _project.PathOf("hall.wav");
        File.Copy(_project.PathOf("out", "mix.wav"), recording);
        var ended = await SmallProject.Run("check", _project.Plan, "--recording", recording, "--recording-start", "0");
        Assert.Equal(0, ended.Code);
        Assert.Contains("12 of 12 bars lie within what the marks allow in sum", ended.Output);
        Assert.Contains("not which source", ended.Output);
        var told = JsonDocument.Parse(await File.ReadAllTextAsync(_project.PathOf("out", "check.json"), TestContext.Current.CancellationToken)).RootElement.GetProperty("recording");
        Assert.Equal(("hall.wav", "said", 12), (told.GetProperty("file").GetString(), told.GetProperty("by").GetString(), told.GetProperty("barsWithin").GetInt32()));
        Assert.Contains("id=\"recorded\"", await File.ReadAllTextAsync(_project.PathOf("out", "report.html"), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task It_stands_in_the_report_of_the_night_as_well()
    {
        Assert.Equal(0, (await SmallProject.Run("check", _project.Plan)).Code);
        var (recording, log, report) = (_project.PathOf("hall.wav"), _project.PathOf("a.log.jsonl"), _project.PathOf("night.html"));
        File.Copy(_project.PathOf("out", "mix.wav"), recording);
        await File.WriteAllLinesAsync(log, ["""{"t":0,"at":null,"kind":"begin"}""", """{"t":1,"at":"1","kind":"start","seconds":0,"value":0}""", """{"t":3,"at":"2","kind":"mark","text":"good"}"""], TestContext.Current.CancellationToken);
        var without = await SmallProject.Run("log", log, "--recording", recording);
        Assert.Equal(2, without.Code);
        Assert.Contains("MX607", without.Error);
        Assert.Equal(0, (await SmallProject.Run("log", log, "--plan", _project.Plan, "--report", report)).Code);
        Assert.DoesNotContain("id=\"recorded\"", await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken));
        Assert.Equal(0, (await SmallProject.Run("log", log, "--plan", _project.Plan, "--report", report, "--recording", recording, "--recording-start", "0")).Code);
        var html = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Contains("id=\"recorded\"", html);
        Assert.Contains("12 of 12 bars lie within what the marks allow in sum", html);
    }

    [Fact]
    public async Task A_recording_that_is_like_nothing_asks_where_the_piece_begins()
    {
        var noise = new Random(1);
        using (var writer = new StemWriter(_project.PathOf("noise.wav"), new SoundFormat(48_000, 1)))
        {
            writer.Write([.. Enumerable.Range(0, 26 * 48_000).Select(_ => 0.1f * (noise.NextSingle() - 0.5f))]);
            writer.Finish();
        }
        var ended = await SmallProject.Run("check", _project.Plan, "--recording", _project.PathOf("noise.wav"));
        Assert.Equal(2, ended.Code);
        Assert.Contains("MX222", ended.Error);
        Assert.Contains("--recording-start", ended.Error);
    }

    [Fact]
    public async Task Wrong_recordings_are_told_before_anything_is_rendered()
    {
        var missing = await SmallProject.Run("check", _project.Plan, "--recording", _project.PathOf("no.wav"));
        Assert.Equal(3, missing.Code);
        Assert.Contains("MX201", missing.Error);
        var none = await SmallProject.Run("check", _project.Plan, "--recording-start", "3");
        Assert.Equal(2, none.Code);
        Assert.Contains("MX223", none.Error);
        Assert.False(File.Exists(_project.PathOf("out", "mix.wav")));
    }
}
