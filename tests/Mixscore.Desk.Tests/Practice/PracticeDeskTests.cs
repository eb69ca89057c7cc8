using Mixscore.Desk.Tests.Map;
using Mixscore.Loudness;

namespace Mixscore.Desk.Tests.Practice;

public class PracticeDeskTests
{
    private static readonly DeskMap Map = DeskMapReader.Parse(Maps.Osc + "\n  meter: { address: \"/strip/{strip}/meter\", off: -1, law: [[-80, 0], [0, 1]] }\n", "hall.desk.yaml")[0];
    private readonly PracticeDesk _desk = new(Map, new PracticeHabits { Places = 101 });

    //  ms  0        10        40
    //      |--move--|---------|echo: the nearest of the fader's 101 places
    [Fact]
    public void A_move_is_reported_late_and_in_the_desks_own_places()
    {
        _desk.Take(new StripValue(3, StripPart.Fader, 0.6149), Ms(0));
        Assert.Empty(Faders(_desk, 39));
        var echo = Assert.Single(Faders(_desk, 40));
        Assert.Equal((3, 0.61), (echo.Strip, Math.Round(echo.Value, 6)));
        Assert.Equal(1, _desk.Moved);
    }

    [Fact]
    public void A_hand_withstands_the_motors_until_it_lets_go()
    {
        _desk.Grab(3, Decibels.Of(-10), TimeSpan.Zero, Ms(0));
        Assert.Equal(0.5, Assert.Single(Faders(_desk, 1)).Value, 1e-6);
        _desk.Take(new StripValue(3, StripPart.Fader, 0.9), Ms(10));
        Assert.Empty(Faders(_desk, 100));
        Assert.Equal((1, true), (_desk.Withstood, _desk.IsHeld(3)));
        _desk.Release(3);
        _desk.Take(new StripValue(3, StripPart.Fader, 0.9), Ms(110));
        Assert.Equal(0.9, Assert.Single(Faders(_desk, 200)).Value, 1e-6);
    }

    [Fact]
    public void A_stroke_goes_straight_in_decibels()
    {
        _desk.Grab(1, Decibels.Of(0), TimeSpan.Zero, Ms(0));
        Faders(_desk, 0);
        _desk.Grab(1, Decibels.Of(-20), Ms(1000), Ms(0));
        Faders(_desk, 500);
        Assert.Equal(-10, _desk.GainOf(1)!.Value.Value, 0.3);
        Faders(_desk, 1000);
        Assert.Equal(-20, _desk.GainOf(1)!.Value.Value, 0.5);
        _desk.Grab(1, null, Ms(100), Ms(1000));
        Faders(_desk, 1100);
        Assert.Null(_desk.GainOf(1));
    }

    // Derived: fed with −18 dB through a fader at −10 dB the meter shows −28 dB: (80 − 28) / 80 of its way.
    [Fact]
    public void Meters_show_what_the_fader_lets_through()
    {
        _desk.Grab(2, Decibels.Of(-10), TimeSpan.Zero, Ms(0));
        Faders(_desk, 0);
        Assert.Equal(0.65, Meter(60), 1e-6);
        _desk.Feed(2, Decibels.Of(0));
        Assert.Equal(0.875, Meter(120), 1e-6);
        _desk.Take(new StripValue(2, StripPart.Mute, 0), Ms(121));
        Assert.Equal(-1, Meter(240));
    }

    [Theory]
    [InlineData("grab 3 -12", PracticeOrderKind.Grab, 3, -12.0, 0)]
    [InlineData(" grab 3 −12 over 1.5 ", PracticeOrderKind.Grab, 3, -12.0, 1500)]
    [InlineData("grab 1 off", PracticeOrderKind.Grab, 1, null, 0)]
    [InlineData("release 7", PracticeOrderKind.Release, 7, null, 0)]
    [InlineData("feed 7 -30", PracticeOrderKind.Feed, 7, -30.0, 0)]
    [InlineData("quit", PracticeOrderKind.Quit, 0, null, 0)]
    public void Orders_are_read(string line, PracticeOrderKind kind, int strip, double? gain, int milliseconds)
    {
        Assert.True(PracticeOrder.TryParse(line, out var order));
        Assert.Equal(new PracticeOrder(kind, strip, gain is { } db ? Decibels.Of(db) : null, Ms(milliseconds)), order);
    }

    [Theory]
    [InlineData("grab"), InlineData("grab 0 -3"), InlineData("grab 3 loud"), InlineData("grab 3 -3 over"), InlineData("grab 3 NaN"), InlineData("release x"), InlineData("dance")]
    public void What_is_no_order_is_refused(string line) => Assert.False(PracticeOrder.TryParse(line, out _));

    private double Meter(int now)
    {
        var outgoing = new List<StripValue>();
        _desk.Tick(Ms(now), outgoing);
        return outgoing.Single(value => value is { Part: StripPart.Meter, Strip: 2 }).Value;
    }

    private static List<StripValue> Faders(PracticeDesk desk, int now)
    {
        var outgoing = new List<StripValue>();
        desk.Tick(Ms(now), outgoing);
        return [.. outgoing.Where(value => value.Part == StripPart.Fader)];
    }

    private static TimeSpan Ms(int milliseconds) => TimeSpan.FromMilliseconds(milliseconds);
}
