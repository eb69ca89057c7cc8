using System.Text.Json;
using Mixscore.Planning;
using static Mixscore.Tests.SmallNight;

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
        await GainAt("near.voice", 2);
        var ended = await SmallProject.Run("fold", _project.Plan, Night("a"), "--json");
        Assert.Equal(0, ended.Code);
        Assert.Empty(Proposals(ended));
        Assert.Empty(Root(ended).GetProperty("leftOut").EnumerateArray());
    }

    [Fact]
    public async Task An_offset_that_lasted_is_the_piece_s_or_where_the_plan_is_for_a_hall_that_hall_s()
    {
        await GainAt("near.voice", 2);
        var log = Night("a", Offset(0.5, "near.voice", 2.5));
        var proposal = Assert.Single(Proposals(await SmallProject.Run("fold", _project.Plan, log, "--accept-all", "--json")));
        Assert.Equal(("near.voice", "1", "end", "0 dB", "+2.5 dB"), proposal);
        Assert.Contains("within: 2 LU, part: P1, offset: +2.5 dB }", await Plan());
        Assert.Empty(Proposals(await SmallProject.Run("fold", _project.Plan, log, "--json")));

        _project.WritePlan(SmallProject.Levels);
        await GainAt("near.voice", 2);
        var before = await Plan();
        proposal = Assert.Single(Proposals(await SmallProject.Run("fold", _project.Plan, log, "--hall", "quay", "--accept-all", "--json")));
        Assert.Equal("+2.5 dB", proposal.Becomes);
        Assert.Equal(before, await Plan());
        Assert.EndsWith("offsets:\n  near.voice: +2.5 dB  # by hand 2026-11-25\n", await File.ReadAllTextAsync(_project.PathOf("halls", "quay.yaml"), TestContext.Current.CancellationToken));
        Assert.True(File.Exists(_project.PathOf("halls", HallSchema.FileName)));
        Assert.Equal(2.5, await GainAt("near.voice", 2, "--hall", "quay") - await GainAt("near.voice", 2), 1e-3);
        Assert.Empty(Proposals(await SmallProject.Run("fold", _project.Plan, log, "--hall", "quay", "--json")));
    }

    [Fact]
    public async Task Nights_that_agree_make_a_proposal_and_nights_that_differ_are_left_to_the_engineer()
    {
        var voice = await GainAt("near.voice", 2);
        string Of(string name, double db, bool isRehearsal = false) => Night(name, isRehearsal, Take(4, "near.voice", voice + db), Back(11, "near.voice"));
        var (first, alike, other) = (Of("a", -4), Of("b", -5), Of("c", +3));
        Assert.Equal("-10.5 within 1.5 LU", Assert.Single(Proposals(await SmallProject.Run("fold", _project.Plan, first, alike, "--json"))).Becomes);

        var differ = await SmallProject.Run("fold", _project.Plan, first, other, "--json");
        Assert.Empty(Proposals(differ));
        var spread = Assert.Single(Root(differ).GetProperty("spreads").EnumerateArray());
        Assert.Equal(("near.voice", "3", "6:3"), (Text(spread, "source"), Text(spread, "from"), Text(spread, "to")));
        Assert.Equal([-4, 3], spread.GetProperty("nights").EnumerateArray().Select(night => night.GetProperty("overPlan").GetDouble()));

        // A rehearsal that differs does not speak against a concert.
        Assert.Equal("-10 within 1 LU", Assert.Single(Proposals(await SmallProject.Run("fold", _project.Plan, first, Of("d", +4, isRehearsal: true), "--json"))).Becomes);
    }

    [Fact]
    public async Task A_log_that_is_broken_and_cut_folds_what_is_whole_and_says_what_is_not()
    {
        var voice = await GainAt("near.voice", 2);
        var log = Night("a", Take(4, "near.voice", voice - 4), Back(8, "near.voice"));
        var lines = await File.ReadAllLinesAsync(log, TestContext.Current.CancellationToken);
        lines[3] = "{\"t\":12,\"at\":\"2:1\",\"ki";
        await File.WriteAllTextAsync(log, string.Join("\n", lines[..20]) + "\n{\"t\":2", TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("fold", _project.Plan, log, "--json");
        Assert.Equal(0, ended.Code);
        Assert.Equal(("near.voice", "3", "5:2", "-6", "-10 within 1 LU"), Assert.Single(Proposals(ended)));
        var notes = Root(ended).GetProperty("notes").EnumerateArray().Select(note => note.GetString()!).ToArray();
        Assert.Contains("a.log.jsonl: lines 4, 21 cannot be read; the rest is folded", notes);
        Assert.Contains(notes, note => note.Contains("ends without an end", StringComparison.Ordinal));
    }

    [Fact]
    public async Task In_the_review_nothing_is_changed_that_was_not_accepted()
    {
        var voice = await GainAt("near.voice", 2);
        var log = Night("a", Take(2, "near.voice", voice - 4), Back(6, "near.voice"), Take(9, "near.engine", -24), Back(11.5, "near.engine"));
        var before = await Plan();
        async Task<Ended> Review(string answers)
        {
            using var output = new StringWriter();
            using var error = new StringWriter();
            var code = await CommandLine.RunAsync(["fold", _project.Plan, log, "--review"], Screen.Terminal.Of(output, error, new StringReader(answers)), TestContext.Current.CancellationToken);
            return new Ended(code, output.ToString(), error.ToString());
        }

        Assert.Contains("Nothing was changed", (await Review("n\nN\n")).Output);
        Assert.Equal(before, await Plan());
        Assert.Contains("is not a level", (await Review("e loud\nq\n")).Output);
        Assert.Equal(before, await Plan());
        Assert.Contains("Accepted 1 of 2", (await Review("e -9 within 1 LU\nn\n")).Output);
        Assert.Contains("    2: -9 within 1 LU  # by hand 2026-11-25", await Plan());
        Assert.DoesNotContain("near.engine:\n    1: -18\n    5", await Plan());
    }

    private Task<string> Plan() => File.ReadAllTextAsync(_project.Plan, TestContext.Current.CancellationToken);

    private string Night(string name, params (double Seconds, string Line)[] lines) => new SmallNight(_project).Write(name, lines);

    private string Night(string name, bool isRehearsal, params (double Seconds, string Line)[] lines) => new SmallNight(_project).Write(name, isRehearsal, lines);

    private async Task<double> GainAt(string source, double seconds, params string[] more)
    {
        Assert.Equal(0, (await SmallProject.Run(["fit", _project.Plan, .. more])).Code);
        return new SmallNight(_project).GainAt(source, seconds);
    }

    private static JsonElement Root(Ended ended) => JsonDocument.Parse(ended.Output).RootElement;

    private static (string Source, string From, string To, string Was, string Becomes)[] Proposals(Ended ended) =>
        [.. Root(ended).GetProperty("proposals").EnumerateArray().Select(one => (Text(one, "source"), Text(one, "from"), Text(one, "to"), Text(one, "was"), Text(one, "becomes")))];

    private static string Text(JsonElement one, string key) => one.GetProperty(key).GetString()!;
}
