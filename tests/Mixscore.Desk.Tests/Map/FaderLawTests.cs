using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Desk.Tests.Map;

public class FaderLawTests
{
    private static readonly Gen<FaderLaw> Laws = Gen.Select(Gen.Int[0, 16383].HashSet[3, 8], Gen.Int[-900, 150].HashSet[8, 9], Gen.Bool, Gen.Bool).Select((values, gains, falls, whole) =>
    {
        var rising = values.Order().ToList();
        if (falls) rising.Reverse();
        var points = rising.Skip(1).Zip(gains.Order(), (value, gain) => Pieces.P(gain / 10.0, whole ? value : value / 16384.0)).ToList();
        return new FaderLaw(points, whole ? rising[0] : rising[0] / 16384.0, whole ? WireNumber.Whole : WireNumber.Real32);
    });

    private static readonly Gen<double> Gains = Gen.Double[-100, 30];

    [Fact]
    public void A_louder_gain_never_has_a_softer_value() => Gen.Select(Laws, Gains, Gains).Sample((law, a, b) =>
    {
        var rise = Math.Sign(law.ToValue(law.Highest) - law.ToValue(law.Lowest));
        Assert.True((law.Sent(Decibels.Of(Math.Max(a, b))) - law.Sent(Decibels.Of(Math.Min(a, b)))) * rise >= 0);
    });

    // Derived: rounding to the nearest number is at most half a step away, measured in the coarser of the pieces that meet there.
    [Fact]
    public void A_gain_comes_back_within_half_a_step() => Gen.Select(Laws, Gains).Sample((law, gain) =>
    {
        var back = law.ToGain(law.Sent(Decibels.Of(gain)));
        if (gain < law.Lowest.Value) Assert.Null(back);
        else Assert.True(Math.Abs(back!.Value.Value - Math.Min(gain, law.Highest.Value)) <= law.StepAt(Decibels.Of(gain)).Value / 2 + 1e-9, $"{gain} came back as {back}");
    });

    [Fact]
    public void A_whole_number_comes_back_exactly() => Gen.Select(Laws, Gen.Int[0, 16383]).Sample((law, value) =>
    {
        if (law.Number == WireNumber.Whole && law.ToGain(value) is { } gain && gain < law.Highest) Assert.Equal(value, law.Sent(gain));
    });

    [Fact]
    public void A_point_has_its_own_value_and_off_has_its_own() => Laws.Sample(law =>
    {
        foreach (var point in law.Points)
        {
            Assert.Equal(law.Quantise(point.Value), law.Sent(point.Gain));
            Assert.Equal(point.Gain, law.ToGain(law.Sent(point.Gain)));
        }
        Assert.Equal(law.Off, law.Sent(null));
        Assert.Null(law.ToGain(law.Off));
    });

    // Design, section 4, the first example of a map; the values between points by hand.
    [Theory]
    [InlineData(null, 0.0), InlineData(-60.1, 0.0), InlineData(-60.0, 0.05), InlineData(-45.0, 0.15), InlineData(-5.0, 0.625), InlineData(10.0, 1.0), InlineData(24.0, 1.0)]
    public void The_law_of_the_design_is_straight_between_points(double? gain, double value) =>
        Assert.Equal(value, Pieces.RealLaw.ToValue(gain is { } given ? Decibels.Of(given) : null), 1e-7);

    [Theory]
    [InlineData(0.0), InlineData(0.03), InlineData(-1.0)]
    public void A_value_below_the_first_point_is_off(double value) => Assert.Null(Pieces.RealLaw.ToGain(value));

    [Fact]
    public void A_value_above_the_last_point_is_the_last() => Assert.Equal(Decibels.Of(10), Pieces.RealLaw.ToGain(3));

    // Derived: 60 dB over 11,488 numbers, 10 dB over 4,095.
    [Fact]
    public void A_step_is_as_wide_as_the_law_is_steep()
    {
        Assert.Equal(60.0 / 11488, Pieces.Law14.StepAt(Decibels.Of(-20)).Value, 1e-12);
        Assert.Equal(10.0 / 4095, Pieces.Law14.StepAt(Decibels.Of(5)).Value, 1e-12);
        Assert.Equal(60.0 / 11488, Pieces.Law14.StepAt(Decibels.Of(0)).Value, 1e-12);
    }

    [Fact]
    public void Points_may_be_written_loudest_first()
    {
        var law = new FaderLaw([Pieces.P(10, 1), Pieces.P(-60, 0.1)], 0, WireNumber.Real64);
        Assert.Equal((Decibels.Of(-60), Decibels.Of(10)), (law.Lowest, law.Highest));
        Assert.Equal(0.1, law.ToValue(Decibels.Of(-60)));
    }

    [Fact]
    public void What_is_no_law_is_a_bad_call()
    {
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(0, 1)], 0, WireNumber.Real32));
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(-60, 0.1), Pieces.P(-30, 0.1)], 0, WireNumber.Real32));
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(-60, 0.1), Pieces.P(-60, 0.2)], 0, WireNumber.Real32));
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(-60, 0.1), Pieces.P(0, 0.2), Pieces.P(10, 0.15)], 0, WireNumber.Real32));
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(-60, 0.1), Pieces.P(0, 0.2)], 0.15, WireNumber.Real32));
        Assert.Throws<ArgumentException>(() => new FaderLaw([Pieces.P(-60, 0.5), Pieces.P(0, 2)], 0, WireNumber.Whole));
    }
}
