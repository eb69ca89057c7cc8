using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

public sealed class LeaningTests
{
    // Derived: the horn is heard at -10 throughout, so 8 under it is -18; the engine's stem holds -5.
    [Fact]
    public void A_level_under_another_source_follows_what_is_heard_of_it()
    {
        var engine = Source(Line(Lean(0, 80, -8, "north.horn")), _ => -5, "north.engine");
        var horn = Source(Line(Held(0, 80, -10)), _ => -3, "north.horn");
        var fitted = RideFitter.Fit(Bars, new Limits(), [engine, horn]);
        Assert.Equal(["north.engine", "north.horn"], fitted.Select(source => source.Source));
        Assert.Equal("0:-13 80:-13", Spoken(fitted[0].Ride));
        Assert.Equal("0:-7 80:-7", Spoken(fitted[1].Ride));
    }

    // Derived: two at -10 are -10 + 10·log10(2) = -6.99 together; 6 under that is -12.99.
    [Fact]
    public void Several_are_leaned_on_by_their_power_sum()
    {
        var engine = Source(Line(Lean(0, 80, -6, "a", "b")), _ => 0, "engine");
        var fitted = RideFitter.Fit(Bars, new Limits(), [engine, Source(Line(Held(0, 80, -10)), _ => 1, "a"), Source(Line(Held(0, 80, -10)), _ => -1, "b")]);
        Assert.Equal("0:-13 80:-13", Spoken(fitted[0].Ride));
        Assert.Equal(-12.99, fitted[0].Ride.At(40)!.Value.Value, 0.01);
    }

    // The horn's stem swells by 2 dB inside its band; the ride leaves that alone, and what leans on it swells along.
    [Fact]
    public void What_is_heard_counts_and_not_what_is_marked()
    {
        var horn = Source(Line(Held(0, 80, -10)), Swells, "horn", within: 3);
        var engine = Source(Line(Lean(0, 80, -8, "horn")), _ => 0, "engine", within: 0.5);
        var fitted = RideFitter.Fit(Bars, new Limits(), [horn, engine]);
        foreach (var t in Enumerable.Range(0, 801).Select(i => i / 10.0))
            Assert.Equal(Swells(t)!.Value + fitted[0].Ride.At(t)!.Value.Value - 8, fitted[1].Ride.At(t)!.Value.Value, 0.5 + 1e-6);

        static double? Swells(double t) => 2 - Math.Abs(t - 40) / 10;
    }

    [Fact]
    public void Where_the_other_rests_its_mark_counts()
    {
        var horn = Source(Line(Held(0, 80, -10)), t => t < 40 ? -3 : null, "horn");
        var fitted = RideFitter.Fit(Bars, new Limits(), [horn, Source(Line(Lean(0, 80, -8, "horn")), _ => 0, "engine", within: 0.5)]);
        Assert.Equal("0:-18 80:-18", Spoken(fitted[1].Ride));
    }

    [Fact]
    public void Where_the_other_is_off_nothing_is_asked()
    {
        var horn = Source(Line(Held(0, 32, -10), Night.Off(32, 80)), _ => 0, "horn");
        var fitted = RideFitter.Fit(Bars, new Limits(), [horn, Source(Line(Lean(0, 80, -8, "horn")), t => t < 40 ? 0 : 30, "engine")]);
        Assert.Equal("0:-18 80:-18", Spoken(fitted[1].Ride));
    }

    [Fact]
    public void A_circle_and_a_stranger_are_refused()
    {
        var (a, b) = (Source(Line(Lean(0, 80, -8, "b")), _ => 0, "a"), Source(Line(Lean(0, 80, -8, "a")), _ => 0, "b"));
        Assert.Contains("by way of others", Assert.Throws<ArgumentException>(() => RideFitter.Fit(Bars, new Limits(), [a, b])).Message);
        Assert.Contains("not among the sources", Assert.Throws<ArgumentException>(() => RideFitter.Fit(Bars, new Limits(), [a])).Message);
        Assert.Contains("two sources", Assert.Throws<ArgumentException>(() => RideFitter.Fit(Bars, new Limits(), [a, a])).Message);
    }
}
