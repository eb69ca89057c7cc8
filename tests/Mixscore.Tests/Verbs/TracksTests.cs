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

    // ISO 9613-1 at 20 degrees: 343.2 m/s.
    [Fact]
    public async Task Align_tells_delays_and_pictures()
    {
        using var project = new SmallProject();
        var plan = await File.ReadAllTextAsync(project.Plan, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(project.Plan, plan.Replace("delay: 20 ms,", "delay: 20 ms, picture: 160 ms,", StringComparison.Ordinal) + "hall: { speakers: { left: 34.32 m } }\n", TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("align", project.Plan, "--json");
        Assert.True(ended.Code == 0, ended.Error);
        var json = JsonDocument.Parse(ended.Output).RootElement;
        Assert.Equal(100, json.GetProperty("speakers")[0].GetProperty("travelMs").GetDouble(), 0.001);
        Assert.Equal(40, json.GetProperty("pictures")[0].GetProperty("soundLeadsMs").GetDouble(), 0.001);
        Assert.Contains("near.voice", (await SmallProject.Run("align", project.Plan)).Output);
    }

    // 120 bars a minute; the tones are 997 Hz, so A-weighted level and level are one. Two steady sources: the piece is as loud as the stretch.
    [Fact]
    public async Task Check_forecasts_exposure_from_a_calibration_and_only_from_one()
    {
        using var project = new SmallProject("levels:\n  near.engine:\n    1: -18\n");
        var without = await SmallProject.Run("check", project.Plan, "--json");
        Assert.Equal(JsonValueKind.Null, JsonDocument.Parse(without.Output).RootElement.GetProperty("exposure").ValueKind);
        await File.AppendAllTextAsync(project.Plan, "hall: { calibration: { bars: 4..8, level: 80 dBA } }\n", TestContext.Current.CancellationToken);
        var with = JsonDocument.Parse((await SmallProject.Run("check", project.Plan, "--json")).Output).RootElement.GetProperty("exposure");
        Assert.Equal(80, with.GetProperty("equivalent").GetDouble(), 0.4);
        Assert.Contains("forecast", with.GetProperty("caution").GetString());
    }

    // The voice on channel 1 and the click, as write makes it, on channel 2 of a recorder that was started 1.25 s before the click's file.
    [Fact]
    public async Task Measure_finds_the_click_beside_a_voice_and_the_plan_then_takes_the_start()
    {
        using var project = new SmallProject();
        Assert.Equal(0, (await SmallProject.Run("write", project.Plan, "--only", "click")).Code);
        using (var reader = Audio.StemFile.Read(project.PathOf("out", "click.wav")).Open())
        {
            var click = new float[reader.File.Frames];
            reader.Read(click);
            using var writer = new Audio.StemWriter(project.PathOf("stems", "voice.wav"), new Loudness.SoundFormat(48_000, 2));
            var both = new float[2 * (60_000 + click.Length)];
            for (var i = 0; i < both.Length / 2; i++) (both[2 * i], both[2 * i + 1]) = ((float)(0.02 * Math.Sin(2 * Math.PI * 997 * i / 48_000)), i >= 60_000 ? click[i - 60_000] : 0);
            writer.Write(both);
            writer.Finish();
        }
        var found = JsonDocument.Parse((await SmallProject.Run("measure", project.Plan, "--click", "--json")).Output).RootElement;
        Assert.Equal(2, found[0].GetProperty("channel").GetInt32());
        Assert.Equal(1.25 + 4, found[0].GetProperty("startSeconds").GetDouble(), 0.00005);
        Assert.Equal(0, found[0].GetProperty("driftPpm").GetDouble(), 0.2);
        Assert.Equal(JsonValueKind.Null, found[1].GetProperty("startSeconds").ValueKind);
        Assert.Contains("write start: 5.2500 s", (await SmallProject.Run("measure", project.Plan, "--click")).Output);

        var plan = await File.ReadAllTextAsync(project.Plan, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(project.Plan, plan.Replace("stem: stems/voice.wav,", "stem: stems/voice.wav, start: 5.25 s, channel: 1,", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        var measured = await SmallProject.Run("measure", project.Plan, "--json");
        Assert.True(measured.Code == 0, measured.Error);
        Assert.Equal(-33.98 - 3.01, JsonDocument.Parse(measured.Output).RootElement.GetProperty("sources")[0].GetProperty("integrated").GetDouble(), 0.3);
    }

    // Bar 5 of 4/4 at 120 is at 8 s, and arrives 20 ms later.
    [Fact]
    public async Task A_stem_without_a_click_is_lined_up_by_a_bar()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("measure", project.Plan, "--line-up", "near.voice", "--bar", "5", "--at", "9.5", "--json");
        Assert.True(ended.Code == 0, ended.Error);
        Assert.Equal(1.48, JsonDocument.Parse(ended.Output).RootElement.GetProperty("startSeconds").GetDouble(), 1e-6);
        Assert.Contains("MX396", (await SmallProject.Run("measure", project.Plan, "--line-up", "near.tuba", "--bar", "5", "--at", "9.5")).Error);
        Assert.Contains("MX396", (await SmallProject.Run("measure", project.Plan, "--line-up", "near.voice")).Error);
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
