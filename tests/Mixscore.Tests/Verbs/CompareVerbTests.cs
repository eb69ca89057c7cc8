using System.Text.Json;

namespace Mixscore.Tests.Verbs;

/// <summary>Two versions of the small project's plan, and two nights of it.</summary>
public sealed class CompareVerbTests : IDisposable
{
    private readonly SmallProject _project = new();

    public void Dispose() => _project.Dispose();

    [Fact]
    public async Task Two_versions_are_told_in_the_terminal_as_json_and_in_a_report()
    {
        var (before, report) = (_project.PathOf("before.mix.yaml"), _project.PathOf("versions.html"));
        File.Copy(_project.Plan, before);
        _project.WritePlan(SmallProject.Levels.Replace("7: -12", "7: -9"));
        var ended = await SmallProject.Run("compare", before, _project.Plan, "--report", report);
        Assert.Equal((0, ""), (ended.Code, ended.Error));
        Assert.Matches(@"near\.voice\s+7\s+end\s+A\+2\s+-12\s+-9\s+\+3\.0 LU", ended.Output);
        Assert.Contains("1 changed", ended.Output);

        var root = JsonDocument.Parse((await SmallProject.Run("compare", before, _project.Plan, "--json")).Output).RootElement;
        var level = Assert.Single(root.GetProperty("levels").EnumerateArray());
        Assert.Equal(("near.voice", "7", "end", "-12", "-9", 3.0), (level.GetProperty("source").GetString(), level.GetProperty("from").GetString(), level.GetProperty("to").GetString(), level.GetProperty("was").GetString(), level.GetProperty("becomes").GetString(), level.GetProperty("by").GetDouble()));
        // The ride follows: 3 dB up from about bar 7 on.
        var ride = Assert.Single(root.GetProperty("rides").EnumerateArray());
        Assert.Equal(3, ride.GetProperty("by").GetDouble(), 0.5);

        var page = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Contains("before.mix.yaml against small.mix.yaml", page);
        Assert.Contains("data-source=\"near.voice\"", page);
        Assert.DoesNotContain("data-source=\"near.engine\"", page);
        // Neither version's rides are taken for the project's own.
        Assert.False(File.Exists(_project.PathOf("out", "rides.json")));
    }

    [Fact]
    public async Task Versions_of_one_name_are_told_apart_by_their_folders()
    {
        var (elsewhere, report) = (_project.PathOf("earlier", "small.mix.yaml"), _project.PathOf("versions.html"));
        Directory.CreateDirectory(_project.PathOf("earlier"));
        File.Copy(_project.Plan, elsewhere);
        File.Copy(_project.PathOf("small.musicxml"), _project.PathOf("earlier", "small.musicxml"));
        Assert.Equal(0, (await SmallProject.Run("compare", elsewhere, _project.Plan, "--report", report)).Code);
        Assert.Matches("earlier/small\\.mix\\.yaml against [^ <]+/small\\.mix\\.yaml", await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Who_holds_all_takes_none_by_itself()
    {
        Assert.Equal(0, (await SmallProject.Run("fit", _project.Plan)).Code);
        var path = new SmallNight(_project).Write("a", SmallNight.Take(4, "near.voice", -6), SmallNight.Back(8, "near.voice"), (10, "\"kind\":\"hold-all\""), SmallNight.Take(10, "near.voice", -6), SmallNight.Take(10, "near.engine", -9));
        Assert.Contains("Taken: near.voice once.", (await SmallProject.Run("log", path)).Output);
    }

    [Fact]
    public async Task A_plan_is_the_same_as_itself()
    {
        var ended = await SmallProject.Run("compare", _project.Plan, _project.Plan);
        Assert.Equal(0, ended.Code);
        Assert.Contains("The two say the same.", ended.Output);
    }

    [Fact]
    public async Task Without_stems_marks_are_compared_and_that_rides_are_not_known_is_said()
    {
        File.Delete(_project.PathOf("stems", "voice.wav"));
        var ended = await SmallProject.Run("compare", _project.Plan, _project.Plan);
        Assert.Equal(0, ended.Code);
        Assert.Contains("rides are not known", ended.Output);
        Assert.Contains("small.mix.yaml: its rides are not known, since", ended.Error);
    }

    //  bar    1    3         5         7         12
    //         |----|-4 by hand|--------|---------|      the first night
    //         |----|---------------|-2 dB to the end    the second
    [Fact]
    public async Task Two_nights_are_told_by_what_hands_did_and_what_happened_beside()
    {
        Assert.Equal(0, (await SmallProject.Run("fit", _project.Plan)).Code);
        var log = new SmallNight(_project);
        var voice = log.GainAt("near.voice", 2);
        var first = log.Write("a", SmallNight.Take(4, "near.voice", voice - 4), SmallNight.Back(8, "near.voice"), (9, "\"kind\":\"drop\",\"source\":\"near.engine\",\"text\":\"silent\""), (11, "\"kind\":\"up\",\"source\":\"near.engine\""), (5, "\"kind\":\"late\",\"value\":0.08"));
        var second = log.Write("b", SmallNight.Offset(12, "near.engine", -2), (6, "\"kind\":\"mark\",\"text\":\"<b>softer</b>\""));
        var report = _project.PathOf("nights.html");
        var ended = await SmallProject.Run("compare", first, second, "--report", report);
        Assert.Equal((0, ""), (ended.Code, ended.Error));
        Assert.Contains("Hands had faders elsewhere in 2 stretches of near.voice, near.engine.", ended.Output);
        Assert.Contains("near.engine is silent", ended.Output);
        Assert.Matches(@"late ticks\s+1, the latest by 80 ms\s+0", ended.Output);

        var root = JsonDocument.Parse((await SmallProject.Run("compare", first, second, "--json")).Output).RootElement;
        var hands = root.GetProperty("hands").EnumerateArray().Select(one => (Gains: one.GetProperty("gains"), Before: one.GetProperty("before").GetString(), After: one.GetProperty("after").GetString()))
            .Select(one => (one.Gains.GetProperty("source").GetString(), one.Gains.GetProperty("from").GetString(), one.Gains.GetProperty("to").GetString(), one.Before, one.After, Math.Round(one.Gains.GetProperty("by").GetDouble(), 1)));
        Assert.Equal([("near.voice", "3", "5", "hand", "plan", 4.0), ("near.engine", "7", "end", "plan", "offset", -2.0)], hands);

        var page = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Contains("&lt;b&gt;softer&lt;/b&gt;", page);
        Assert.DoesNotContain("<b>softer", page);
    }

    [Fact]
    public async Task A_night_has_a_report_of_its_own()
    {
        Assert.Equal(0, (await SmallProject.Run("fit", _project.Plan)).Code);
        var log = new SmallNight(_project);
        var path = log.Write("a", SmallNight.Take(4, "near.voice", log.GainAt("near.voice", 2) - 4), SmallNight.Back(8, "near.voice"), (6, "\"kind\":\"mark\",\"text\":\"softer\""));
        var report = _project.PathOf("night.html");
        var ended = await SmallProject.Run("log", path, "--report", report);
        Assert.Equal(0, ended.Code);
        Assert.Contains("The report is", ended.Output);
        var page = await File.ReadAllTextAsync(report, TestContext.Current.CancellationToken);
        Assert.Contains("taken once, 4 s in hand", page);
        Assert.Contains("note: softer", page);
        Assert.Contains("<dt>Bar 3</dt>", page);
        Assert.Contains("data-source=\"near.voice\"", page);
        Assert.DoesNotContain("data-source=\"near.engine\"", page);
    }

    [Fact]
    public async Task A_log_whose_plan_is_not_to_be_found_asks_for_it()
    {
        Assert.Equal(0, (await SmallProject.Run("fit", _project.Plan)).Code);
        var log = new SmallNight(_project).Write("a");
        var elsewhere = _project.PathOf("far", "away", "a.log.jsonl");
        Directory.CreateDirectory(Path.GetDirectoryName(elsewhere)!);
        File.Move(log, elsewhere);
        var ended = await SmallProject.Run("log", elsewhere, "--report", _project.PathOf("night.html"));
        Assert.Equal(2, ended.Code);
        Assert.Contains("MX605", ended.Error);
        Assert.False(File.Exists(_project.PathOf("night.html")));
        Assert.Equal(0, (await SmallProject.Run("log", elsewhere, "--plan", _project.Plan, "--report", _project.PathOf("night.html"))).Code);
    }

    [Theory]
    [InlineData("MX604", "small.mix.yaml", "a.log.jsonl")]
    [InlineData("MX604", "small.musicxml", "small.mix.yaml")]
    [InlineData("MX604", "small.mix.yaml", "small.mix.yaml", "--plan", "small.mix.yaml")]
    [InlineData("MX602", "small.mix.yaml", "small.mix.yaml", "--tolerance", "0")]
    [InlineData("MX606", "small.mix.yaml", "small.mix.yaml", "--report", "small.mix.yaml")]
    [InlineData("MX401", "small.musicxml.jsonl", "small.musicxml.jsonl")]
    public async Task Bad_input_is_told_and_nothing_is_written_over(string code, params string[] arguments)
    {
        File.Copy(_project.PathOf("small.musicxml"), _project.PathOf("small.musicxml.jsonl"));
        var before = await File.ReadAllTextAsync(_project.Plan, TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run(["compare", .. arguments.Select(argument => argument.Contains('.', StringComparison.Ordinal) ? _project.PathOf(argument) : argument)]);
        Assert.Equal(2, ended.Code);
        Assert.Contains(code, ended.Error);
        Assert.Equal(before, await File.ReadAllTextAsync(_project.Plan, TestContext.Current.CancellationToken));
    }
}
