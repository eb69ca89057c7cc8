namespace Mixscore.Score.Tests;

public sealed class MidiFileTests
{
    // Standard MIDI Files 1.0, pp. 12-14: the example piece, format 0.
    internal const string Format0 =
        "4D546864000000060000000100604D54726B0000003B00FF58040402180800FF510307A12000C00500C12E00C24600923060003C6060914340"
        + "60904C2081408230400" + "03C4000814340" + "00804C4000FF2F00";

    // The same piece, format 1.
    internal const string Format1 =
        "4D546864000000060001000400604D54726B0000001400FF58040402180800FF510307A1208300FF2F00"
        + "4D54726B0000001000C0058140904C2081404C0000FF2F004D54726B0000000F00C12E60914340822043" + "0000FF2F00"
        + "4D54726B0000001500C24600923060003C60830030" + "00003C0000FF2F00";

    /// <summary>25 frames of 40 ticks, a tempo event, 2000 ticks.</summary>
    internal const string Smpte = "4D5468640000000600000001E7284D54726B0000000C00FF51030F42408F50FF2F00";

    [Theory]
    [InlineData(Format0)]
    [InlineData(Format1)]
    public void The_specifications_example_reads_as_published(string hex)
    {
        var score = Read(hex);
        var timeline = TimelineBuilder.Build(score).Timeline;
        Assert.Equal("4/4", Assert.Single(score.Bars).Meter.Text);
        Assert.Equal(new Quarters(4), timeline.End);
        Assert.Equal(2.0, timeline.Duration.Value, 1e-12);   // 120 quarters a minute
        var notes = Performance.Of(score, timeline).Parts.SelectMany(part => part.Notes).OrderBy(note => note.Pitch).ToList();
        Assert.Equal([48, 60, 67, 76], notes.Select(note => note.Pitch!.Value));
        Assert.Equal([new Quarters(0), new Quarters(0), new Quarters(1), new Quarters(2)], notes.Select(note => note.Start));
        Assert.Equal([new Quarters(4), new Quarters(4), new Quarters(3), new Quarters(2)], notes.Select(note => note.Length));
    }

    // SMF 1.0: 25 frames of 40 ticks are milliseconds; 2000 ticks are 2 s whatever the tempo event says.
    [Fact]
    public void Smpte_division_counts_seconds_and_not_quarters()
    {
        var score = Read(Smpte);
        var timeline = TimelineBuilder.Build(score).Timeline;
        Assert.Equal(2.0, timeline.Duration.Value, 1e-9);
        Assert.Contains(score.Warnings, warning => warning.Code == "MX025");
    }

    [Theory]
    [InlineData("MX020", "4D546864000000060002000100604D54726B0000000400FF2F00")]     // format 2
    [InlineData("MX021", "4D546864000000060000000100004D54726B0000000400FF2F00")]     // division 0
    [InlineData("MX021", "4D546864000000060000000100604D54726BFFFFFFFF00FF2F00")]     // a chunk of 4 GB
    [InlineData("MX021", "4D546864000000060000000100604D54726B0000000500904060")]     // cut short
    [InlineData("MX021", "4D546864000000060000000100604D54726B00000003003C60")]       // no status
    [InlineData("MX021", "4D546864000000060000000100604D54726B0000000800FFFFFFFFFFFF7F")]
    [InlineData("MX006", "4D546864000000060000000100604D54726B0000000400FF2F00")]     // nothing in it
    [InlineData("MX021", "4D5468640000000600000001006")]                              // no tracks
    public void Broken_files_are_refused_with_a_stable_code(string code, string hex) =>
        Assert.Equal(code, Assert.Throws<InputException>(() => Read(hex.Length % 2 == 0 ? hex : hex[..^1])).Faults[0].Code);

    internal static WrittenScore Read(string hex) => ScoreFile.Read(new MemoryStream(Convert.FromHexString(hex)), "drawn.mid");
}
