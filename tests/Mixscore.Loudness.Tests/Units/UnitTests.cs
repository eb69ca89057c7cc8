using System.Globalization;
using CsCheck;

namespace Mixscore.Loudness.Tests.Units;

public class UnitTests
{
    // Derived: 20 log10 and 10 log10 of 2 and of 10.
    [Theory, InlineData(1, 0, 0), InlineData(2, 6.0205999, 3.0103), InlineData(10, 20, 10), InlineData(0.5, -6.0205999, -3.0103)]
    public void Ratios_become_decibels(double ratio, double amplitude, double power)
    {
        Tones.Within(1e-6, amplitude, Decibels.FromGain(ratio)?.Value);
        Tones.Within(1e-6, power, Decibels.FromPowerRatio(ratio)?.Value);
    }

    [Fact]
    public void Nothing_has_no_decibels_and_no_loudness()
    {
        Assert.Null(Decibels.FromGain(0));
        Assert.Null(Decibels.FromPowerRatio(0));
        Assert.Null(Lufs.FromMeanSquare(0));
        Assert.Null(Lufs.PowerSum([]));
        Assert.Null(Decibels.PowerSum([]));
    }

    [Theory, InlineData(double.NaN), InlineData(double.PositiveInfinity), InlineData(-1e-9)]
    public void A_ratio_that_is_none_is_refused(double ratio)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Decibels.FromGain(ratio));
        Assert.Throws<ArgumentOutOfRangeException>(() => Decibels.FromPowerRatio(ratio));
        Assert.Throws<ArgumentOutOfRangeException>(() => Lufs.FromMeanSquare(ratio));
    }

    [Theory, InlineData(double.NaN), InlineData(double.PositiveInfinity), InlineData(double.NegativeInfinity)]
    public void No_unit_holds_what_is_not_finite(double value)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => Decibels.Of(value));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Lufs(value));
    }

    [Fact]
    public void There_and_back_is_the_identity() =>
        Gen.Double[-120, 40].Sample(value =>
        {
            Tones.Within(1e-9, value, Decibels.FromGain(Decibels.Of(value).ToGain())?.Value);
            Tones.Within(1e-9, value, Decibels.FromPowerRatio(Decibels.Of(value).ToPowerRatio())?.Value);
            Tones.Within(1e-9, value, Lufs.FromMeanSquare(new Lufs(value).ToMeanSquare())?.Value);
        });

    [Fact]
    public void A_distance_takes_one_place_to_the_other() =>
        Gen.Select(Gen.Double[-80, 20], Gen.Double[-80, 20]).Sample((a, b) =>
        {
            var (from, to) = (new Lufs(a), new Lufs(b));
            Tones.Within(1e-9, b, (from + (to - from)).Value);
            Tones.Within(1e-9, a, (to - (to - from)).Value);
            Assert.Equal(from < to, to - from > Decibels.Zero);
            Assert.Equal(from <= to, from.CompareTo(to) <= 0);
            Assert.Equal(from - to, -(to - from));
        });

    // Derived: two equal powers are 3.0103 dB more than one.
    [Fact]
    public void Two_equal_sounds_are_3_dB_louder_than_one()
    {
        Tones.Within(1e-4, -19.9897, Lufs.PowerSum([new(-23), new(-23)])?.Value);
        Tones.Within(1e-4, -2.9897, Decibels.PowerSum([Decibels.Of(-6), Decibels.Of(-6)])?.Value);
    }

    [Theory, InlineData(-6, "-6.0"), InlineData(0, "0.0"), InlineData(-0.04, "0.0"), InlineData(12.34, "12.3")]
    public void Text_has_one_decimal_and_the_unit_in_every_culture(double value, string number)
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = new CultureInfo("") { NumberFormat = { NumberDecimalSeparator = ",", NegativeSign = "−" } };
        try
        {
            Assert.Equal(number + " dB", Decibels.Of(value).ToString());
            Assert.Equal(number + " LUFS", new Lufs(value).ToString());
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
