using System.Globalization;
using System.Text.Json;

namespace Mixscore.Outside.Tests;

/// <summary>The demo's recorded night, <c>examples/night-ferry.log.jsonl</c>: see <see cref="ExampleNight"/> for what the hands do in it.</summary>
public sealed class ExampleNightTests(DemoRun demo)
{
    private static readonly string Log = Path.Combine(Outside.Sources, "..", "..", "examples", "night-ferry.log.jsonl");

    // It takes as long as the piece: 4 min 34 s. With MIXSCORE_RECORD=1, after the demo's plan or stems have changed.
    [Fact]
    public void The_night_is_recorded_anew()
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("MIXSCORE_RECORD") == "1", "records examples/night-ferry.log.jsonl in real time with MIXSCORE_RECORD=1");
        using var night = new DemoNight(demo);
        File.WriteAllText(Log, ExampleNight.Shared(File.ReadAllText(new ExampleNight(night).Play())));
    }

    // By listening: the clarinet some 4 dB up over bars 27 and 28 (the plan says -2), the voice some 5 up from bar 43 (the plan
    // says -3), the engine of the south ferry 3 down for good; the cello that was taken by mistake and the faders that were held
    // with all others are nobody's wish.
    [Fact]
    public void It_folds_into_what_one_would_expect_by_listening()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var copy = new DemoCopy(demo);
        var folded = Fold(copy.Plan, "--json");
        var proposals = folded.GetProperty("proposals").EnumerateArray().ToDictionary(one => Text(one, "source"));
        Assert.Equal(["middle.clarinet", "north.voice", "south.engine"], proposals.Keys.Order());

        Assert.Equal(("0 dB", "-3 dB", "offset"), (Text(proposals["south.engine"], "was"), Text(proposals["south.engine"], "becomes"), Text(proposals["south.engine"], "kind")));
        Assert.Equal(("43", "-3"), (Text(proposals["north.voice"], "from"), Text(proposals["north.voice"], "was")));
        Assert.Equal(2, Level(proposals["north.voice"]), 1.0);
        Assert.Equal("27", Text(proposals["middle.clarinet"], "from"));
        Assert.Equal(3, Level(proposals["middle.clarinet"]), 1.5);

        var leftOut = folded.GetProperty("leftOut").EnumerateArray().Select(left => (Text(left, "source"), Text(left, "because"))).ToArray();
        Assert.Contains(("south.cello", "moved and moved back within a beat"), leftOut);
        Assert.Equal(9, leftOut.Count(left => left.Item2 == "held with all others"));

        Outside.Mixscore("fold", copy.Plan, Log, "--accept-all");
        Assert.Empty(Fold(copy.Plan, "--json").GetProperty("proposals").EnumerateArray());
    }

    [Fact]
    public void It_has_a_report_and_tells_nothing_of_the_machine()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var copy = new DemoCopy(demo);
        var report = Path.Combine(copy.Folder, "night.html");
        var ended = Outside.Mixscore("log", Log, "--plan", copy.Plan, "--report", report);
        Assert.True(ended.Code == 0, ended.Error);
        var page = File.ReadAllText(report);
        Assert.Contains("the cello may come nearer here", page, StringComparison.Ordinal);
        Assert.Contains("gone once", page, StringComparison.Ordinal);
        var log = File.ReadAllText(Log);
        Assert.Contains("\"boot\":\"example\"", log, StringComparison.Ordinal);
        Assert.DoesNotContain("/tmp", log, StringComparison.Ordinal);
        Assert.True(log.Length < 50_000, $"{log.Length} characters");
    }

    private static JsonElement Fold(string plan, string option)
    {
        var ended = Outside.Mixscore("fold", plan, Log, option);
        Assert.True(ended.Code == 0, ended.Error);
        return JsonDocument.Parse(ended.Output).RootElement;
    }

    private static double Level(JsonElement proposal) => double.Parse(Text(proposal, "becomes").Split(' ')[0], CultureInfo.InvariantCulture);

    private static string Text(JsonElement one, string key) => one.GetProperty(key).GetString()!;
}
