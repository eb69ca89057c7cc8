using Mixscore.Score;

namespace Mixscore.Audio.Tests.Demo;

public sealed class DynamicCurveTests
{
    private static DynamicCurve Curve(PerformedMark[] marks, params PerformedHairpin[] hairpins) => new(Parts.Part("P1", "", [], marks, hairpins));

    private static PerformedHairpin Hairpin(long from, long to, bool grows, bool niente = false) => new(new Quarters(from), new Quarters(to), grows, niente, 1, false);

    // Our own: 3 dB a step, mezzo-forte at 0.
    [Fact]
    public void A_dynamic_holds_until_the_next()
    {
        var curve = Curve([Parts.Mark(2, "p"), Parts.Mark(6, "ff")]);
        Assert.Equal([-6, -6, -6, 6, 6], new[] { 0.0, 2, 5.999, 6, 100 }.Select(curve.At));
        Assert.Equal(0, Curve([]).At(3));
    }

    [Fact]
    public void A_hairpin_goes_straight_to_the_dynamic_at_its_end()
    {
        var curve = Curve([Parts.Mark(0, "p"), Parts.Mark(8, "f")], Hairpin(4, 8, grows: true));
        Assert.Equal([-6, -6, -1.5, 3, 3], new[] { 0.0, 4, 6, 8, 9 }.Select(curve.At));
    }

    [Fact]
    public void A_hairpin_without_a_goal_goes_by_a_step()
    {
        var curve = Curve([Parts.Mark(0, "f"), Parts.Mark(20, "ff")], Hairpin(4, 8, grows: false));
        Assert.Equal([3, 1.5, 0, 0, 6], new[] { 4.0, 6, 8, 19, 20 }.Select(curve.At));
    }

    [Fact]
    public void Niente_comes_from_nothing_and_goes_to_nothing()
    {
        Assert.Equal([-24, -12, 0], new[] { 0.0, 2, 4 }.Select(Curve([Parts.Mark(4, "mf")], Hairpin(0, 4, grows: true, niente: true)).At));
        Assert.Equal([0, -12, -24], new[] { 0.0, 2, 4 }.Select(Curve([Parts.Mark(0, "mf")], Hairpin(0, 4, grows: false, niente: true)).At));
    }

    [Fact]
    public void Marks_that_are_no_steady_dynamic_change_nothing() =>
        Assert.Equal(-3, Curve([Parts.Mark(0, "mp"), Parts.Mark(2, "sfz")]).At(3));
}
