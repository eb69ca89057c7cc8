using System.Text.RegularExpressions;

namespace Mixscore.Outside.Tests;

/// <summary>The first command of the README, as a person runs it.</summary>
public class DemoTests(DemoRun demo)
{
    [Fact]
    public void The_demo_ends_well_and_shows_a_line_a_source()
    {
        Assert.True(demo.First.Code == 0, demo.First.Output + demo.First.Error);
        foreach (var source in (string[])["north.voice", "north.horn", "north.engine", "middle.voice", "middle.clarinet", "middle.engine", "south.voice", "south.cello", "south.engine"])
            Assert.Matches($@"(?m)^ *{Regex.Escape(source)} .* good *$", demo.First.Output);
        Assert.Contains("report.html", demo.First.Output);
        Assert.Contains("Try next:", demo.First.Output);
    }

    [Fact]
    public void It_lays_one_plan_and_its_desk_maps()
    {
        Assert.Single(Directory.GetFiles(demo.PathOf(), "*.mix.yaml"));
        Assert.Equal(2, Directory.GetFiles(demo.PathOf(), "*.desk.yaml").Length);
    }

    [Fact]
    public void Run_again_it_changes_nothing()
    {
        Assert.Equal(0, demo.First.Code);
        Assert.Equal(0, demo.Second.Code);
        Assert.Equal(demo.Made.OrderBy(file => file.Key), demo.Contents().OrderBy(file => file.Key));
    }

    [Fact]
    public void No_file_is_left_half_written()
    {
        Assert.Equal(0, demo.First.Code);
        Assert.DoesNotContain(demo.Made.Keys, name => name.EndsWith(".part", StringComparison.Ordinal));
    }

    // Nine stems that are clean but for their dropouts: voices, a horn, a clarinet, a cello and three engines, 41 minutes.
    [Fact]
    public void No_stem_is_taken_for_noise_of_its_link() =>
        Assert.All(demo.Json("out", "measure.json").GetProperty("sources").EnumerateArray(), source => Assert.Equal(0, source.GetProperty("bursts").GetArrayLength()));

    // The check measured again from its own contract: what is heard stays within the level on 98 % of the beats of every source.
    [Fact]
    public void The_verdict_is_what_its_figures_say()
    {
        var check = demo.Json("out", "check.json");
        Assert.Equal("good", check.GetProperty("verdict").GetString());
        foreach (var source in check.GetProperty("sources").EnumerateArray())
            Assert.True(source.GetProperty("beatsWithin").GetInt32() >= 0.98 * source.GetProperty("beatsActive").GetInt32(), source.GetProperty("source").GetString());
    }

    // A ride set bar by bar has a vertex a bar; those that are fitted have a third of that at most.
    [Fact]
    public void The_rides_have_at_most_a_third_of_the_vertices_of_one_a_bar()
    {
        var vertices = demo.Json("out", "rides.json").GetProperty("sources").EnumerateArray().Sum(source => source.GetProperty("vertices").GetArrayLength());
        var bars = demo.Json("out", "check.json").GetProperty("sources").EnumerateArray().Sum(source => source.GetProperty("bars").GetArrayLength());
        Assert.True(3 * vertices <= bars, $"{vertices} vertices over {bars} bars");
    }
}
