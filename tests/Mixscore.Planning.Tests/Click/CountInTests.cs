using Mixscore.Planning.Tests.Levels;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Click;

public sealed class CountInTests
{
    [Fact]
    public void Bars_letters_and_tempi_stand_later_by_the_count_in()
    {
        var counted = CountIn.Before(Scores.Twenty, 2, 120);
        Assert.Equal(22, counted.Led.Bars.Count);
        Assert.Equal(new Quarters(8), counted.Length);
        Assert.Equal(4, counted.Lead.Value, 1e-12);
        Assert.True(counted.Led.TryResolve(Position.Parse("C"), out var c, out _));
        Assert.Equal(new Quarters(8 + 56), c);
        Assert.Equal(4 + 80, counted.Led.Duration.Value, 1e-9);
    }

    [Fact]
    public void No_bars_are_no_count_in() => Assert.Same(Scores.Twenty, CountIn.Before(Scores.Twenty, 0, 60).Led);

    // A piece without meter is counted in its own beats, four at most.
    [Fact]
    public void A_piece_without_meter_is_counted_in_beats()
    {
        var free = new Meter("free", []);
        var bar = new PlayedBar { Index = 1, Label = "1", Written = 1, Pass = 1, Meter = free, Start = Quarters.Zero, Length = new Quarters(9), Beats = PlayedBar.BeatsOf(Quarters.Zero, new Quarters(9), free) };
        var counted = CountIn.Before(new Timeline([bar], [], new TempoMap([new TempoPiece(Quarters.Zero, 60)])), 1, 60);
        Assert.Equal(4, counted.Lead.Value, 1e-12);
    }
}
