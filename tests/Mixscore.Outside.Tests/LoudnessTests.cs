using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Mixscore.Outside.Tests;

/// <summary>
/// ffmpeg's ebur128 filter on the mix and on two stems. Tolerances: integrated 0.1 LU, range 0.6 LU (the tools differ in
/// the hop that the range is taken at), true peak 0.3 dB (the interpolators differ).
/// </summary>
public partial class LoudnessTests(DemoRun demo)
{
    [Theory]
    [InlineData("out/mix.wav")]
    [InlineData("stems/north-engine.wav")]
    [InlineData("stems/south-cello.wav")]
    public void Another_meter_reads_the_same(string file)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var path = demo.PathOf(file.Split('/'));
        var theirs = Summary(Outside.Run("ffmpeg", "-hide_banner", "-nostats", "-i", path, "-filter_complex", "ebur128=peak=true", "-f", "null", "-").Error);
        var ended = Outside.Mixscore("loudness", path, "--json");
        Assert.Equal(0, ended.Code);
        var ours = JsonDocument.Parse(ended.Output).RootElement[0];
        Assert.Equal(theirs["I"], ours.GetProperty("integrated").GetDouble(), 0.1);
        Assert.Equal(theirs["LRA"], ours.GetProperty("range").GetDouble(), 0.6);
        Assert.Equal(theirs["Peak"], ours.GetProperty("truePeak").GetDouble(), 0.3);
    }

    [Fact]
    public void The_check_and_the_meter_agree_on_the_mix()
    {
        var mix = demo.Json("out", "check.json").GetProperty("mix");
        var meter = JsonDocument.Parse(Outside.Mixscore("loudness", demo.PathOf("out", "mix.wav"), "--json").Output).RootElement[0];
        // The meter reads the 24-bit file, the check what went into it: half a step of 24 bits is far below these.
        Assert.Equal(mix.GetProperty("integrated").GetDouble(), meter.GetProperty("integrated").GetDouble(), 0.001);
        Assert.Equal(mix.GetProperty("truePeak").GetDouble(), meter.GetProperty("truePeak").GetDouble(), 0.001);
    }

    /// <summary>The figures of the summary at the end of the log; the frames before it print some of the same names.</summary>
    private static Dictionary<string, double> Summary(string log)
    {
        var summary = log[log.LastIndexOf("Summary:", StringComparison.Ordinal)..];
        return Figures().Matches(summary).GroupBy(match => match.Groups[1].Value)
            .ToDictionary(group => group.Key, group => double.Parse(group.First().Groups[2].Value, CultureInfo.InvariantCulture));
    }

    [GeneratedRegex(@"(?m)^\s*(I|LRA|Peak):\s*(-?[\d.]+) ")]
    private static partial Regex Figures();
}
