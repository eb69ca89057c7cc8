namespace Mixscore.Score.Tests;

public sealed class TempoFileTests
{
    // 96 ticks a quarter; 60 quarters a minute, and 30 from tick 384 on; ends at tick 768. Standard MIDI Files 1.0.
    private const string TwoBars = "4D546864000000060000000100604D54726B00000014" + "00FF51030F4240" + "8300FF51031E8480" + "8300FF2F00";

    // An upbeat of one quarter, then a bar: in the score alone, or filled up with three quarters of rest.
    private const string Upbeat = "<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>";
    private const string Filled = "<note><rest/><duration>12</duration></note>" + Upbeat;

    private static readonly WrittenScore Score = Draw.Read(Draw.Partwise(Draw.Sound("tempo=\"200\"") + Draw.Words("rit.") + Draw.Whole, Draw.Whole));

    [Fact]
    public void The_tempo_of_a_file_takes_the_place_of_the_scores()
    {
        var file = TempoFile.Of(MidiFileTests.Read(TwoBars));
        Assert.Equal(new Quarters(8), file.Timeline.End);
        var built = TimelineBuilder.Build(Score, new TimelineOptions { PlayedTempo = file });
        Assert.Equal(4 + 8, built.Timeline.Duration.Value, 1e-9);
        Assert.Equal(2, built.Timeline.Bars.Count);
        Assert.Empty(built.Warnings);
        Assert.Empty(built.Open);   // the players' click knows how the rit. goes
    }

    [Fact]
    public void The_plan_still_wins_over_the_file()
    {
        var plan = new TempoOverride(Position.Parse("2"), Position.End, 60, 60);
        Assert.Equal(4 + 4, TimelineBuilder.Build(Score, new TimelineOptions { PlayedTempo = TempoFile.Of(MidiFileTests.Read(TwoBars)), Tempo = [plan] }).Timeline.Duration.Value, 1e-9);
    }

    [Fact]
    public void A_file_of_another_length_is_laid_from_the_start_with_a_warning()
    {
        var longer = Draw.Read(Draw.Partwise(Draw.Whole, Draw.Whole, Draw.Whole, Draw.Whole));
        var built = TimelineBuilder.Build(longer, new TimelineOptions { PlayedTempo = TempoFile.Of(MidiFileTests.Read(TwoBars)) });
        Assert.Equal("MX083", Assert.Single(built.Warnings).Code);
        Assert.Equal(4 + 8 + 16, built.Timeline.Duration.Value, 1e-9);
    }

    private static WrittenScore Bars(params string[] bars) => Draw.Read(Draw.Score([.. bars.Select((bar, i) => ($"{i}", bar))]));

    /// <summary>The upbeat's tempo is 60 and that of the bar after it 30 quarters a minute.</summary>
    private static WrittenScore Click(string upbeat) => Bars(Draw.Sound("tempo=\"60\"") + upbeat, Draw.Sound("tempo=\"30\"") + Draw.Whole);

    private static readonly string Rests = Filled.Replace("<pitch><step>C</step><octave>4</octave></pitch>", "<rest/>", StringComparison.Ordinal);

    // Score:      ♩ | ○         File:   𝄾 𝄾 𝄾 ♩ | ○  — the upbeat at 60 lasts a second and the bar at 30 eight.
    [Theory]
    [InlineData(Upbeat, Upbeat, 9)]
    [InlineData(Upbeat, Filled, 9, "MX084")]
    [InlineData(Filled, Filled, 12)]
    [InlineData(Filled, Upbeat, 12, "MX084")]
    public void An_upbeat_that_one_of_the_two_fills_up_is_found_by_the_notes(string score, string file, double seconds, params string[] warnings)
    {
        var built = TimelineBuilder.Build(Bars(score, Draw.Whole), new TimelineOptions { PlayedTempo = TempoFile.Of(Click(file)) });
        Assert.Equal(seconds, built.Timeline.Duration.Value, 1e-9);
        Assert.Equal(warnings, built.Warnings.Select(warning => warning.Code));
    }

    // A click without notes is longer than the score by what fills the upbeat up, and no more.
    [Fact]
    public void An_upbeat_that_a_file_without_notes_fills_up_is_found_by_its_length()
    {
        var silent = Click(Rests) with { Parts = [] };
        var built = TimelineBuilder.Build(Bars(Upbeat, Draw.Whole), new TimelineOptions { PlayedTempo = TempoFile.Of(silent) });
        Assert.Equal(9, built.Timeline.Duration.Value, 1e-9);
        Assert.Equal("MX084", Assert.Single(built.Warnings).Code);
    }

    // A bar of count-in: said, it is not guessed at.
    [Fact]
    public void Where_the_score_begins_in_the_file_can_be_said()
    {
        var file = TempoFile.Of(Bars(Draw.Sound("tempo=\"240\"") + Draw.Whole, Draw.Sound("tempo=\"60\"") + Draw.Whole, Draw.Whole));
        var begun = file.BeginningAt(Position.Parse("1"), out var problem);
        Assert.Null(problem);
        Assert.Equal(8, TimelineBuilder.Build(Bars(Draw.Whole, Draw.Whole), new TimelineOptions { PlayedTempo = begun }).Timeline.Duration.Value, 1e-9);
        Assert.Null(file.BeginningAt(Position.Parse("4"), out problem));
        Assert.NotNull(problem);
        Assert.Null(file.BeginningAt(Position.End, out problem));
        Assert.NotNull(problem);
    }

    [Fact]
    public void A_file_that_counts_seconds_is_refused() =>
        Assert.Equal("MX024", Assert.Throws<InputException>(() => TempoFile.Of(MidiFileTests.Read(MidiFileTests.Smpte))).Faults[0].Code);
}
