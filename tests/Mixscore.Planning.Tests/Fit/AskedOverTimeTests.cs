using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand: a beat is a quarter is a second; at 24 dB/s a fader can move 24 dB a beat.
public sealed class AskedOverTimeTests
{
    [Fact]
    public void A_held_level_asks_for_itself_and_nothing_else() =>
        Assert.Equal((-18, -18, -18), Asked(Source(Line(Held(0, 80, -18)), _ => 0), 40));

    //  -6            o-------
    //                /         the move runs over beat 15 and ends on 16
    // -18  --------o
    [Fact]
    public void Over_the_move_of_a_step_all_between_both_levels_is_right()
    {
        var source = Source(Line(Held(0, 16, -18), Held(16, 80, -6)), _ => 0);
        Assert.Equal((-18, -18, -18), Asked(source, 14.5));
        Assert.Equal((-18, -18, -6), Asked(source, 15.5));
        Assert.Equal((-6, -6, -6), Asked(source, 16));
    }

    // From -18 to the bottom are 42 dB: two beats.
    [Fact]
    public void Over_the_move_into_off_any_lower_level_is_right()
    {
        var source = Source(Line(Held(0, 64, -18), Off(64, 80)), _ => 0);
        Assert.Equal((-18, null, -18), Asked(source, 63));
        Assert.Equal((null, null, null), Asked(source, 64));
    }

    private static (double?, double?, double?) Asked(SourceToFit source, double quarters)
    {
        var rides = RideFitter.Fit(Bars, new Limits(), [source]).Select(fitted => fitted.Ride).ToArray();
        return AskedOverTime.Of(Bars, new Limits(), [source], rides)[source.Name].At(quarters);
    }
}
