using CsCheck;

namespace Mixscore.Score.Tests;

// Laws of the rational numbers; derived.
public sealed class FractionTests
{
    private static readonly Gen<Fraction> Any = Gen.Select(Gen.Long[-1_000_000, 1_000_000], Gen.Long[1, 100_000], (n, d) => new Fraction(n, d));

    [Fact]
    public void Sums_and_products_obey_the_laws_of_a_field() => Gen.Select(Any, Any, Any).Sample((a, b, c) =>
    {
        Assert.Equal(a + b, b + a);
        Assert.Equal(a * b, b * a);
        Assert.Equal(a * (b + c), a * b + a * c);
        Assert.Equal(a, a - b + b);
        if (b != Fraction.Zero) Assert.Equal(a, a / b * b);
    }, iter: 2000);

    [Fact]
    public void Order_and_floor_agree_with_each_other() => Gen.Select(Any, Any).Sample((a, b) =>
    {
        Assert.Equal(a < b, (b - a).Numerator > 0);
        Assert.Equal(a.CompareTo(b), -b.CompareTo(a));
        Assert.True(new Fraction(a.Floor()) <= a && a < new Fraction(a.Floor() + 1));
    }, iter: 2000);

    [Fact]
    public void Text_reads_back() => Any.Sample(a =>
    {
        Assert.True(Fraction.TryParse(a.ToString(), out var read));
        Assert.Equal(a, read);
    }, iter: 2000);

    [Fact]
    public void What_does_not_fit_is_never_wrong_in_silence()
    {
        Assert.Throws<OverflowException>(() => new Fraction(long.MaxValue) + new Fraction(1));
        Assert.Throws<OverflowException>(() => new Fraction(1, long.MaxValue) * new Fraction(1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Fraction(1, 0));
        Assert.Equal(Fraction.Zero, default);
    }

    [Theory]
    [InlineData("")]
    [InlineData("1/0")]
    [InlineData("1/-2")]
    [InlineData("1,5")]
    [InlineData("1/2/3")]
    public void What_is_no_fraction_is_refused(string text) => Assert.False(Fraction.TryParse(text, out _));

    // Of all fractions within the distance the one with the smallest denominator, by brute force.
    [Fact]
    public void The_simplest_fraction_near_a_number_is_found() => Gen.Select(Gen.Double[0, 50], Gen.Double[1e-4, 0.1]).Sample((value, within) =>
    {
        var found = SimplestFraction.Near(value, within);
        Assert.InRange(found.ToDouble(), value - within - 1e-12, value + within + 1e-12);
        for (var d = 1; d < found.Denominator; d++)
            Assert.True(Math.Abs(Math.Round(value * d) / d - value) > within - 1e-12, $"{Math.Round(value * d)}/{d} is simpler than {found}");
    }, iter: 2000);
}
