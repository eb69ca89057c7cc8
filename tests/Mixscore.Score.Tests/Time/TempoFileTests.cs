namespace Mixscore.Score.Tests;

public sealed class TempoFileTests
{
    // 96 ticks a quarter; 60 quarters a minute, and 30 from tick 384 on; ends at tick 768. Standard MIDI Files 1.0.
    private const string TwoBars = "4D546864000000060000000100604D54726B00000014" + "00FF51030F4240" + "8300FF51031E8480" + "8300FF2F00";

    private static readonly WrittenScore Score = Draw.Read(Draw.Partwise(Draw.Sound("tempo=\"200\"") + Draw.Words("rit.") + Draw.Whole, Draw.Whole));

    [Fact]
    public void The_tempo_of_a_file_takes_the_place_of_the_scores()
    {
        var file = TempoFile.Of(MidiFileTests.Read(TwoBars));
        Assert.Equal(new Quarters(8), file.End);
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

    [Fact]
    public void A_file_that_counts_seconds_is_refused() =>
        Assert.Equal("MX024", Assert.Throws<InputException>(() => TempoFile.Of(MidiFileTests.Read(MidiFileTests.Smpte))).Faults[0].Code);
}
