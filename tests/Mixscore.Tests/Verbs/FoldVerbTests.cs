using System.Globalization;
using System.Text.Json;
using Mixscore.Planning;

namespace Mixscore.Tests.Verbs;

/// <summary>The small project's voice stands at +4 dB over bars 1 to 6 and −2 from bar 7 on, after a fade of a beat; the engine at −15. A bar lasts two seconds.</summary>
public sealed class FoldVerbTests : IDisposable
{
    private readonly SmallProject _project = new();

    public void Dispose() => _project.Dispose();

    //  bar    1    3         5    7         12
    //         |----|--hand---|----|---------|      four dB under the plan, and handed back
    [Fact]
    public async Task A_hand_becomes_a_mark_where_it_stood_and_the_plan_comes_back_after_it()
    {
        var voice = await GainAt("near.voice", 2);
        var log = Night("a", Take(4, "near.voice", voice - 4), Back(8, "near.voice"));
        var ended = await SmallProject.Run("fold", _project.Plan, log, "--json");
        Assert.Equal((0, ""), (ended.Code, ended.Error));
        var proposal = Assert.Single(Proposals(ended));
        Assert.Equal(("near.voice", "3", "5:2", "-6", "-10 within 1 LU"), proposal);
    }

    [Fact]
    public async Task What_is_accepted_stands_in_the_plan_with_date_and_is_not_proposed_again()
    {
        var before = await File.ReadAllLinesAsync(_project.Plan, TestContext.Current.CancellationToken);
        var voice = await GainAt("near.voice", 2);
        var log = Night("a", Take(4, "near.voice", voice - 4), Back(8, "near.voice"));
        Assert.Equal(0, (await SmallProject.Run("fold", _project.Plan, log, "--accept-all")).Code);
        var after = await File.ReadAllLinesAsync(_project.Plan, TestContext.Current.CancellationToken);
        Assert.Equal(["    3: -10 within 1 LU  # by hand 2026-11-25", "    5:2: -6  # by hand 2026-11-25"], after.Except(before));
        Assert.Empty(before.Except(after));
        var again = await SmallProject.Run("fold", _project.Plan, log, "--json");
        Assert.Empty(Proposals(again));
    }

    [Fact]
    public async Task A_night_that_nobody_touched_proposes_nothing()
    {
        var ended = await SmallProject.Run("fold", _project.Plan, Night("a"), "--json");
        Assert.Equal(0, ended.Code);
        Assert.Empty(Proposals(ended));
        Assert.Empty(Root(ended).GetProperty("leftOut").EnumerateArray());
    }

    private async Task<double> GainAt(string source, double seconds)
    {
        Assert.Equal(0, (await SmallProject.Run("fit", _project.Plan)).Code);
        return RidesFile.Read(_project.PathOf("out", "rides.json")).Single(ride => ride.Source == source).Ride.At(seconds * 2)!.Value.Value;
    }

    private static JsonElement Root(Ended ended) => JsonDocument.Parse(ended.Output).RootElement;

    private static (string, string, string, string, string)[] Proposals(Ended ended) =>
        [.. Root(ended).GetProperty("proposals").EnumerateArray().Select(one => (Text(one, "source"), Text(one, "from"), Text(one, "to"), Text(one, "was"), Text(one, "becomes")))];

    private static string Text(JsonElement one, string key) => one.GetProperty(key).GetString()!;

    private static (double, string) Take(double seconds, string source, double db) =>
        (seconds, string.Create(CultureInfo.InvariantCulture, $"\"kind\":\"take\",\"source\":\"{source}\",\"db\":{db}"));

    private static (double, string) Back(double seconds, string source) => (seconds, $"\"kind\":\"back\",\"source\":\"{source}\",\"db\":0");

    /// <summary>A log of the whole piece with a position each second and these lines between; the piece begins ten seconds into the log.</summary>
    private string Night(string name, params (double Seconds, string Line)[] lines)
    {
        var all = Enumerable.Range(0, 25).Select(second => ((double)second, second == 0 ? "\"kind\":\"start\",\"value\":0" : "\"kind\":\"position\"")).Concat(lines).OrderBy(line => line.Item1);
        var head = "{\"t\":0,\"at\":null,\"kind\":\"begin\",\"date\":\"2026-11-25T20:00:00+01:00\",\"plan\":\"small.mix.yaml\",\"planKey\":\"k\",\"clock\":\"click\",\"desks\":[],\"boot\":\"b\",\"uptime\":1,\"rehearsal\":false}";
        var path = _project.PathOf(name + ".log.jsonl");
        File.WriteAllLines(path, [head, .. all.Select(line => string.Create(CultureInfo.InvariantCulture, $"{{\"t\":{line.Item1 + 10},\"at\":\"{At(line.Item1)}\",{line.Item2},\"seconds\":{line.Item1}}}")),
            "{\"t\":40,\"at\":\"end\",\"kind\":\"end\",\"seconds\":24}"]);
        return path;
    }

    private static string At(double seconds) => seconds >= 24 ? "end" : string.Create(CultureInfo.InvariantCulture, $"{(int)(seconds / 2) + 1}:{(int)(seconds % 2 * 2) + 1}");
}
