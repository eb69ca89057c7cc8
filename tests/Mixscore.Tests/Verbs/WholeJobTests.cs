using System.Text.Json;
using System.Text.RegularExpressions;

namespace Mixscore.Tests.Verbs;

/// <summary>The verbs one after another on a small project, against the contracts of their files.</summary>
public class WholeJobTests
{
    [Fact]
    public async Task The_job_runs_verb_by_verb()
    {
        using var project = new SmallProject();
        foreach (var verb in (string[])["read", "measure", "fit", "check"])
        {
            var ended = await SmallProject.Run(verb, project.Plan);
            Assert.True(ended.Code == 0, $"{verb}: {ended.Output}{ended.Error}");
        }
        var written = await SmallProject.Run("write", project.Plan, "--desk", project.PathOf("osc.desk.yaml"), "--desk", project.PathOf("midi.desk.yaml"));
        Assert.True(written.Code == 0, written.Error);
        foreach (var file in (string[])["measure.json", "rides.json", "mix.wav", "report.html", "check.json", "automation.mid", "automation.osc", "automation.osc.txt", "write.json"])
            Assert.True(File.Exists(project.PathOf("out", file)), file);
    }

    [Fact]
    public async Task Read_tells_the_contracts_keys()
    {
        using var project = new SmallProject();
        var read = await Json("read", project.Plan);
        Assert.Equal(12, read.GetProperty("barsPlayed").GetInt32());
        Assert.Equal("48", read.GetProperty("durationQuarters").GetString());
        Assert.Equal(24, read.GetProperty("durationSeconds").GetDouble(), 1e-9);
        var bar = read.GetProperty("played")[4];
        Assert.Equal(["index", "bar", "written", "pass", "meter", "startQuarters", "quarters", "startSeconds", "beats"], bar.EnumerateObject().Select(property => property.Name));
        Assert.Equal(["16", "17", "18", "19"], bar.GetProperty("beats").EnumerateArray().Select(beat => beat.GetString()));
        Assert.Equal("A", read.GetProperty("letters")[0].GetProperty("name").GetString());
    }

    // A 997 Hz sine of −33 dBFS in one channel reads −36.01 LUFS (ITU-R BS.1770-5 Annex 1: 0 dBFS reads −3.01).
    [Fact]
    public async Task Measure_and_check_tell_the_levels_that_tones_have()
    {
        using var project = new SmallProject();
        var measured = (await Json("measure", project.Plan)).GetProperty("sources");
        Assert.Equal(-36.01, measured[0].GetProperty("integrated").GetDouble(), 0.02);
        Assert.Equal(12, measured[0].GetProperty("bars").GetArrayLength());
        var check = await Json("check", project.Plan);
        Assert.Equal("good", check.GetProperty("verdict").GetString());
        var bars = check.GetProperty("sources")[0].GetProperty("bars");
        Assert.Equal(-6, bars[3].GetProperty("target").GetDouble(), 0.01);
        Assert.Equal(-12, bars[10].GetProperty("target").GetDouble(), 0.01);
        Assert.Equal(bars[3].GetProperty("target").GetDouble(), bars[3].GetProperty("heard").GetDouble(), 2.0);
    }

    [Fact]
    public async Task Noise_of_the_link_is_told_wherever_dropouts_are()
    {
        using var project = new SmallProject();
        project.WriteTone("stems/voice.wav", -33, 26, noise: (7.25, 0.12));
        var measured = await SmallProject.Run("measure", project.Plan);
        Assert.Contains("Noise bursts", measured.Output);
        Assert.Contains("0:07", measured.Output);
        Assert.Contains("[MX216]", measured.Error + measured.Output);
        var bursts = (await Json("measure", project.Plan)).GetProperty("sources")[0].GetProperty("bursts");
        Assert.Equal(7.25, bursts[0][0].GetDouble(), 0.002);
        Assert.Equal(7.37, bursts[0][1].GetDouble(), 0.002);
        await SmallProject.Run("check", project.Plan);
        var report = await File.ReadAllTextAsync(project.PathOf("out", "report.html"), TestContext.Current.CancellationToken);
        Assert.Contains("<title>noise of the link</title>", report);
        Assert.Contains("noise of the link breaks into near.voice once", report);
    }

    // Steady tones need no more corners than the one step in the marks: start, begin and end of the move, end of the piece.
    [Fact]
    public async Task Fit_needs_the_fewest_vertices_that_steady_tones_allow()
    {
        using var project = new SmallProject();
        var rides = (await Json("fit", project.Plan)).GetProperty("sources");
        Assert.True(rides[0].GetProperty("vertices").GetArrayLength() <= 4);
        Assert.Equal(2, rides[1].GetProperty("vertices").GetArrayLength());
        Assert.Equal("end", rides[1].GetProperty("vertices")[1].GetProperty("position").GetString());
    }

    [Fact]
    public async Task Check_falls_short_where_no_fader_reaches()
    {
        using var project = new SmallProject("levels:\n  near.voice:\n    1: +3\n");
        var ended = await SmallProject.Run("check", project.Plan);
        Assert.Equal(1, ended.Code);
        Assert.Contains("near.voice sits within its level on 0 of 48 beats", ended.Output);
        Assert.Contains("too quiet for a fader that tops at +10", await File.ReadAllTextAsync(project.PathOf("out", "report.html"), TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Rides_that_a_person_changed_stand_until_the_next_fit()
    {
        using var project = new SmallProject();
        await SmallProject.Run("fit", project.Plan);
        var rides = project.PathOf("out", "rides.json");
        var changed = Regex.Replace(await File.ReadAllTextAsync(rides, TestContext.Current.CancellationToken), "\"db\": -?[0-9.]+", "\"db\": -30");
        await File.WriteAllTextAsync(rides, changed, TestContext.Current.CancellationToken);
        Assert.Equal(1, (await SmallProject.Run("check", project.Plan)).Code);
        Assert.Equal(changed, await File.ReadAllTextAsync(rides, TestContext.Current.CancellationToken));
        await SmallProject.Run("fit", project.Plan);
        Assert.Equal(0, (await SmallProject.Run("check", project.Plan)).Code);
    }

    [Fact]
    public async Task A_changed_plan_is_fitted_again_by_itself()
    {
        using var project = new SmallProject();
        await SmallProject.Run("check", project.Plan);
        project.WritePlan("levels:\n  near.engine:\n    1: -9\n");
        var check = await Json("check", project.Plan);
        Assert.Equal(-9, check.GetProperty("sources")[1].GetProperty("bars")[5].GetProperty("heard").GetDouble(), 3.0);
    }

    [Fact]
    public async Task Only_picks_the_files_that_are_written()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("write", project.Folder, "--desk", project.PathOf("midi.desk.yaml"), "--desk", project.PathOf("osc.desk.yaml"), "--only", "midi");
        Assert.True(ended.Code == 0, ended.Error);
        Assert.True(File.Exists(project.PathOf("out", "automation.mid")));
        Assert.False(File.Exists(project.PathOf("out", "automation.osc")));
    }

    [Fact]
    public async Task Start_and_draft_make_a_plan_that_the_other_verbs_take()
    {
        using var project = new SmallProject();
        var folder = project.PathOf("new");
        var started = await SmallProject.Run("start", folder, "--score", project.PathOf("small.musicxml"));
        Assert.True(started.Code == 0, started.Error);
        var plan = Path.Combine(folder, "small.mix.yaml");
        var before = await File.ReadAllTextAsync(plan, TestContext.Current.CancellationToken);
        Assert.Contains("near.voice", before);
        var drafted = await SmallProject.Run("draft", folder);
        Assert.True(drafted.Code == 0, drafted.Error);
        Assert.DoesNotContain("# drafted", before);
        Assert.Matches("(?m)^ +1: mf +# drafted$", await File.ReadAllTextAsync(plan, TestContext.Current.CancellationToken));
        Assert.Equal(2, (await SmallProject.Run("start", folder, "--score", project.PathOf("small.musicxml"))).Code);
    }

    [Fact]
    public async Task Draft_never_touches_a_mark_that_a_person_wrote()
    {
        using var project = new SmallProject();
        var before = await File.ReadAllTextAsync(project.Plan, TestContext.Current.CancellationToken);
        Assert.Equal(0, (await SmallProject.Run("draft", project.Plan)).Code);
        Assert.Equal(before, await File.ReadAllTextAsync(project.Plan, TestContext.Current.CancellationToken));
    }

    private static async Task<JsonElement> Json(params string[] arguments)
    {
        var ended = await SmallProject.Run([.. arguments, "--json"]);
        Assert.True(ended.Code <= 1, ended.Error);
        return JsonDocument.Parse(ended.Output).RootElement;
    }
}
