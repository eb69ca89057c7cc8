using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscTimeTagTests
{
    // OSC 1.0, "Temporal Semantics and OSC Time Tags": 63 zero bits then a one.
    [Fact]
    public void Immediately_is_63_zero_bits_and_a_one()
    {
        Assert.Equal(1UL, OscTimeTag.Immediate.Value);
        Assert.True(OscTimeTag.Immediate.IsImmediate);
        Assert.Equal("immediately", OscTimeTag.Immediate.ToString());
    }

    // Derived from the NTP epoch of OSC 1.0: 25,567 days from 1900-01-01 to 1970-01-01 are 2,208,988,800 s.
    [Theory]
    [InlineData(0, 0x83AA7E80_00000000UL)]
    [InlineData(1000000000.5, 0xBF454880_80000000UL)]
    public void A_date_counts_from_1900(double unixSeconds, ulong expected) =>
        Assert.Equal(expected, OscTimeTag.FromUtc(DateTimeOffset.UnixEpoch.AddSeconds(unixSeconds)).Value);

    // Derived: 2^32 / 1000 rounds to 0x00418937.
    [Fact]
    public void A_millisecond_is_00418937_of_fraction()
    {
        Assert.Equal(0x00418937UL, OscTimeTag.FromSeconds(0.001).Value);
        Assert.Equal(0x00418937UL, (uint)OscTimeTag.FromUtc(DateTimeOffset.UnixEpoch.AddMilliseconds(1)).Value);
    }

    // RFC 4330, section 3: seconds begin again at 2036-02-07 06:28:16 UTC.
    [Fact]
    public void Seconds_begin_again_in_2036()
    {
        var edge = new DateTimeOffset(2036, 2, 7, 6, 28, 16, TimeSpan.Zero);
        Assert.Equal(0UL, OscTimeTag.FromUtc(edge).Value);
        Assert.Equal(0xFFFFFFFFUL, OscTimeTag.FromUtc(edge.AddTicks(-1)).Value >> 32);
        Assert.Equal(edge, new OscTimeTag(0).ToUtc());
    }

    [Fact]
    public void Every_date_comes_back_to_the_tick() =>
        Gen.Long[new DateTime(1968, 1, 21).Ticks, new DateTime(2104, 2, 25).Ticks].Sample(ticks =>
        {
            var moment = new DateTimeOffset(ticks, TimeSpan.Zero);
            return OscTimeTag.FromUtc(moment).ToUtc() == moment;
        });

    [Fact]
    public void Seconds_come_back_exactly_where_a_double_holds_them() =>
        Gen.ULong[0, (1UL << 53) - 1].Sample(bits => OscTimeTag.FromSeconds(new OscTimeTag(bits).ToSeconds()).Value == bits);

    [Fact]
    public void Order_of_seconds_is_order_of_tags() =>
        Gen.Select(Gen.Double[0, 1e6], Gen.Double[0, 1e6]).Sample((a, b) =>
            OscTimeTag.FromSeconds(Math.Min(a, b)) <= OscTimeTag.FromSeconds(Math.Max(a, b)));

    [Theory]
    [InlineData(-0.001)]
    [InlineData(4294967296.0)]
    [InlineData(double.NaN)]
    public void Seconds_that_do_not_fit_are_refused(double seconds) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => OscTimeTag.FromSeconds(seconds));

    [Fact]
    public void A_fraction_that_rounds_up_carries_into_the_seconds() =>
        Assert.Equal(1UL << 32, OscTimeTag.FromSeconds(Math.BitDecrement(1.0)).Value);

    [Theory]
    [InlineData(1900)]
    [InlineData(2105)]
    public void Dates_of_other_eras_are_refused(int year) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => OscTimeTag.FromUtc(new DateTimeOffset(year, 6, 1, 0, 0, 0, TimeSpan.Zero)));
}
