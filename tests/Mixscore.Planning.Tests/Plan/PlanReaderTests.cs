using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

public sealed class PlanReaderTests
{
    // The example of the plan format, read whole. Derived from the design's section 4.
    [Fact]
    public void Example_is_read_whole()
    {
        var plan = Plans.Read(Plans.Ferry);
        Assert.Equal(("Night Ferry", "night-ferry.musicxml", new Lufs(-23)), (plan.Title, plan.Score, plan.Reference));
        Assert.Equal(new Place("t.mix.yaml", 2, 8), plan.ScorePlace);
        Assert.Equal(Path.GetFullPath("t.mix.yaml"), plan.File);

        var north = Assert.Single(plan.Sites);
        Assert.Equal(("north", new Link(Seconds.FromMilliseconds(38), new OnDrop(true, new Seconds(0.3)))), (north.Name, north.Link));

        Assert.Equal(["north.voice", "north.horn", "north.engine"], plan.Sources.Select(source => source.Name));
        Assert.Equal([Role.Voice, Role.Instrument, Role.Ambient], plan.Sources.Select(source => source.Role));
        Assert.Equal([1, 2, 3], plan.Sources.Select(source => source.Strip));
        Assert.Equal([null, "P1", "P4"], plan.Sources.Select(source => source.Part));
        Assert.All(plan.Sources, source => Assert.Equal(Decibels.Of(2), source.Within));
        Assert.Equal(new Place("t.mix.yaml", 11, 3), plan.Sources[1].Place);

        Assert.Equal(
            [
                new TempoEntry(Position.Parse("D"), Position.End, 72, 60, null, new Place("t.mix.yaml", 5, 3)),
                new TempoEntry(Position.Parse("40:4"), null, null, null, new Seconds(3.5), new Place("t.mix.yaml", 6, 3)),
            ],
            plan.Tempo);

        var engine = Assert.Single(plan.Levels);
        Assert.Equal(["1 - off", "5 - -18", "9 13 -18 > -6", "13 - -6", "C - under north.horn by 8"],
            engine.Marks.Select(mark => $"{mark.From} {mark.To?.ToString() ?? "-"} {LevelText.Write(mark.Start, mark.End)}"));
        Assert.Equal(new Place("t.mix.yaml", 17, 5), engine.Marks[2].Place);
        Assert.Equal(new Limits(), plan.Limits);
    }

    [Fact]
    public void What_is_not_written_has_its_usual_value()
    {
        var plan = Plans.Read(Plans.Head);
        Assert.Equal(new Lufs(-23), plan.Reference);
        Assert.Equal(OnDrop.Usual, plan.Sites[0].Link.OnDrop);
        Assert.Empty(plan.Tempo);
        Assert.Empty(plan.Levels);
        Assert.Equal(Decibels.Of(-8), plan.Dynamics["mf"]);
    }

    // Common practice, no source: people leave blanks, units and the hyphen's proper place out.
    [Theory]
    [InlineData("reference: -23", -23)]
    [InlineData("reference: \u221223LUFS", -23)]
    [InlineData("reference: \u2212 16.5 lufs", -16.5)]
    [InlineData("reference: -24 LKFS", -24)]
    public void References_are_read_as_people_write_them(string line, double expected) =>
        Assert.Equal(expected, Plans.Read(Plans.Head + line).Reference.Value);

    [Theory]
    [InlineData("delay: 38 ms", 0.038)]
    [InlineData("delay: 38", 0.038)]
    [InlineData("delay: 0.25s", 0.25)]
    [InlineData("delay: 0", 0)]
    public void Delays_are_milliseconds_unless_they_say_seconds(string delay, double seconds) =>
        Assert.Equal(seconds, Plans.Read(Plans.Head.Replace("delay: 38 ms", delay, StringComparison.Ordinal))
            .Sites[0].Link.Delay.Value, 12);

    [Theory]
    [InlineData("hold", false, 0)]
    [InlineData("fade 1.5 s", true, 1.5)]
    [InlineData("fade", true, 0.3)]
    public void Links_hold_or_fade_when_they_drop(string words, bool fades, double over) =>
        Assert.Equal(new OnDrop(fades, new Seconds(over)),
            Plans.Read(Plans.Head.Replace("38 ms", "38 ms, on-drop: " + words, StringComparison.Ordinal)).Sites[0].Link.OnDrop);

    [Theory]
    [InlineData("C: 72", "C - 72 -")]
    [InlineData("12..16: 90 > 72", "12 16 90 72")]
    [InlineData("12..16: 90", "12 16 90 90")]
    [InlineData("D: 72>60 by 20:3", "D 20:3 72 60")]
    public void Tempi_are_read(string line, string expected)
    {
        var entry = Assert.Single(Plans.Read(Plans.Head + "tempo:\n  " + line).Tempo);
        Assert.Equal(expected, $"{entry.From} {entry.To?.ToString() ?? "-"} {entry.StartTempo} {entry.EndTempo?.ToString() ?? "-"}");
    }

    [Fact]
    public void Limits_are_read()
    {
        var limits = Plans.Read(Plans.Head + "limits: { fader: -90..12, speed: 12 dB / s, hand: 60, true-peak: -2 dB }").Limits;
        var expected = new Limits { Bottom = Decibels.Of(-90), Top = Decibels.Of(12), Speed = 12, Hand = 60, TruePeak = Decibels.Of(-2) };
        Assert.Equal(expected, limits);
    }

    [Fact]
    public void Vertices_stand_on_beats_unless_the_plan_or_a_source_says_otherwise()
    {
        Assert.All(Plans.Read(Plans.Head).Sources, source => Assert.Equal(VertexGrid.Beats, source.Grid));
        var plan = Plans.Read(Plans.Head.Replace("strip: 1", "strip: 1, grid: bars", StringComparison.Ordinal) + "grid: halves\n");
        Assert.Equal(VertexGrid.Halves, plan.Grid);
        Assert.Equal([VertexGrid.Bars, VertexGrid.Halves, VertexGrid.Halves], plan.Sources.Select(source => source.Grid));
    }

    [Fact]
    public void A_grid_that_is_nearly_one_is_guessed() =>
        Assert.Contains("bars", Assert.Single(Plans.FaultsOf(Plans.Head + "grid: bar\n")).Remedy, StringComparison.Ordinal);

    [Fact]
    public void Table_of_dynamics_goes_over_ours_wherever_it_stands_in_the_file()
    {
        var plan = Plans.Read(Plans.WithMarks("1: mf", "2: pppp") + "dynamics: { mf: -9.5, pppp: -32 LU }\n");
        Assert.Equal([new Level.At(Decibels.Of(-9.5), "mf"), new Level.At(Decibels.Of(-32), "pppp")],
            plan.Levels[0].Marks.Select(mark => mark.Start));
        Assert.Equal(Decibels.Of(-4), plan.Dynamics["f"]);
    }

    [Fact]
    public void Byte_order_mark_and_carriage_returns_change_nothing()
    {
        var plan = Plans.Read("\uFEFF" + Plans.Ferry.ReplaceLineEndings("\r\n"));
        Assert.Equal("Night Ferry", plan.Title);
        Assert.Equal(new Place("t.mix.yaml", 17, 5), plan.Levels[0].Marks[2].Place);
    }

    [Fact]
    public void Files_that_are_not_there_are_not_faults_of_the_plan() =>
        Assert.Throws<FileNotFoundException>(() => PlanReader.Read(Path.Combine(Path.GetTempPath(), "no-such.mix.yaml")));

    [Fact]
    public void Files_that_are_not_text_are_refused()
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(path, [0x74, 0x3A, 0x20, 0xFF, 0xFE]);
            Assert.Equal("MX101", Assert.Throws<InputException>(() => PlanReader.Read(path)).Faults.Single().Code);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
