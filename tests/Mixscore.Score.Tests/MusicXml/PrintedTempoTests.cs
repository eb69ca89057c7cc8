namespace Mixscore.Score.Tests;

// Metronome marks that stand in plain words. Note signs of Unicode and of SMuFL 1.40; common practice for the rest.
public sealed class PrintedTempoTests
{
    [Theory]
    [InlineData("♩ = 120", 120.0)]
    [InlineData("Allegro (♩=132)", 132.0)]
    [InlineData("Andante  ♪ = 96", 48.0)]
    [InlineData("♩. = 60", 90.0)]
    [InlineData("𝅗𝅥 = 72", 144.0)]
    [InlineData("\uECA3\uECB7 = 40", 120.0)]
    [InlineData("\uECA5 = c. 66", 66.0)]
    [InlineData("M.M. quarter = 63", 63.0)]
    [InlineData("Largo, quarter note = 40-44", 42.0)]
    [InlineData("half=58,5", 117.0)]
    [InlineData("♩ = ♪", null)]
    [InlineData("Allegro", null)]
    [InlineData("x = 120", null)]
    [InlineData("♩ 120", null)]
    public void A_note_and_a_number_are_a_tempo(string words, double? tempo) => Assert.Equal(tempo, PrintedTempo.Read(words));

    [Fact]
    public void It_is_taken_with_a_warning_and_a_mark_for_playing_wins()
    {
        var score = Draw.Read(Draw.Partwise(Draw.Words("Allegro ♩ = 132") + Draw.Whole, Draw.Words("♩ = 60") + Draw.Sound("tempo=\"61\"") + Draw.Whole));
        Assert.Equal([132, 61], score.Tempo.Select(tempo => tempo.QuartersPerMinute));
        Assert.Equal(2, score.Warnings.Count(warning => warning.Code == "MX046"));
    }
}
