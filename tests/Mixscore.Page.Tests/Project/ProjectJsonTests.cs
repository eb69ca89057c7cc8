using System.Text.Json;

namespace Mixscore.Page.Tests;

public class ProjectJsonTests
{
    [Fact]
    public void It_tells_the_bars_as_played_and_the_lines_of_every_source()
    {
        using var piece = new SmallPiece();
        using var json = JsonDocument.Parse(ProjectJson.Write(piece.Project));
        var root = json.RootElement;
        Assert.Equal([1, 2, 3, 4, 3, 4, 5, 6], root.GetProperty("bars").EnumerateArray().Select(bar => bar.GetProperty("written").GetInt32()));
        Assert.Equal([1, 1, 1, 1, 2, 2, 1, 1], root.GetProperty("bars").EnumerateArray().Select(bar => bar.GetProperty("pass").GetInt32()));
        var voice = root.GetProperty("sources")[0];
        Assert.Equal("near.voice voice P1", $"{voice.GetProperty("name").GetString()} {voice.GetProperty("role").GetString()} {voice.GetProperty("part").GetString()}");
        // The mark asks for −6 all the way, and within is 2.
        Assert.Equal([-6.0, -6.0], Values(voice, "target"));
        Assert.Equal([-8.0, -8.0], Values(voice, "low"));
        Assert.Equal([0.0, 0.0], Values(voice, "ride"));
        // A 997 Hz sine at −20 dBFS has −23.0 LUFS: EBU Tech 3341, test signal 1, less its second channel's 3.01 dB and its level.
        Assert.All(Values(voice, "measured"), level => Assert.InRange(level, -0.4, 0.4));
        Assert.Equal(16, root.GetProperty("seconds").GetDouble(), 3);
    }

    private static IEnumerable<double> Values(JsonElement source, string key) =>
        source.GetProperty(key).EnumerateArray().Where((value, i) => i % 2 == 1 && value.ValueKind == JsonValueKind.Number).Select(value => value.GetDouble());
}
