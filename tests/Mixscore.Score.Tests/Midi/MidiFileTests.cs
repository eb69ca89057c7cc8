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

    /// <summary>A file of format 1, 96 ticks a quarter, with these tracks; each gets its end.</summary>
    private static string Tracks(params string[] tracks) =>
        $"4D5468640000000600010{tracks.Length:X3}0060" + string.Concat(tracks.Select(track => track.Replace(" ", "", StringComparison.Ordinal) + "00FF2F00").Select(track => $"4D54726B{track.Length / 2:X8}{track}"));

    // 4 quarters of a note: 8300 is 384 ticks.
    private const string Note = "00903C60 83003C00";

    // SMF 1.0 ends a running status at meta events; programs that let it go on are understood, with a word.
    [Fact]
    public void A_running_status_that_goes_on_behind_a_meta_event_is_taken()
    {
        var score = Read(Tracks("00903C60 00FF0101 41 83003C00"));
        Assert.Equal(new Quarters(4), Assert.Single(score.Parts[0].Notes).Length);
        Assert.Equal("MX086", Assert.Single(score.Warnings).Code);
    }

    // Exclusive events, in one piece and in two, and escapes have their length; a chunk that nobody knows is passed over.
    [Fact]
    public void Exclusive_events_and_unknown_chunks_are_passed_over()
    {
        var file = Tracks("00F0057E7F0901F7 00F00343120060 F70343 12F7 00F701F8" + Note);
        var score = Read(file.Insert(28, "58464948" + "00000003" + "010203"));
        Assert.Equal(new Quarters(4), TimelineBuilder.Build(score).Timeline.End - Assert.Single(score.Parts[0].Notes).Start.Offset);
    }

    // Tempo in the second track, a second one at the very end, a meter of 3/8 and one of 5/4 in the third.
    [Fact]
    public void Tempo_and_meter_count_in_any_track()
    {
        var score = Read(Tracks("", "00FF51030F4240 8300FF510307A120", "00FF580403031808 8110FF580405021808", Note));
        Assert.Equal(["3/8", "5/4"], score.Bars.Select(bar => bar.Meter.Text));
        Assert.Equal(["3/2", "5/2"], score.Bars.Select(bar => bar.Length.ToString()));   // the last bar ends with the file
        Assert.Equal(4.0, TimelineBuilder.Build(score).Timeline.Duration.Value, 1e-9);
    }

    // The last barline is at 4 quarters; a note begins behind it, and a release hangs over.
    [Theory]
    [InlineData("8300903C60 603C00", 2, "1")]
    [InlineData("00903C60 83003C00 10904000", 1, "25/6")]
    public void Notes_behind_the_last_barline_make_a_bar_and_a_release_does_not(string track, int bars, string last)
    {
        var score = Read(Tracks(track));
        Assert.Equal(bars, score.Bars.Count);
        Assert.Equal(last, score.Bars[^1].Length.ToString());
    }

    internal static WrittenScore Read(string hex) => ScoreFile.Read(new MemoryStream(Convert.FromHexString(hex)), "drawn.mid");
}
