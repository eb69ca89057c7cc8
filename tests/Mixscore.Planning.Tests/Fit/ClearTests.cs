using Mixscore.Loudness;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand: steady stems at 0 LU, a voice asked at -10 within 2 and an engine at -12 within 3: 2 LU over it in the middle.
public sealed class ClearTests
{
    [Fact]
    public void Without_a_demand_both_sit_in_their_middle() =>
        Assert.Equal(["0:-10 80:-10", "0:-12 80:-12"], Rides(clear: null));

    // The engine's band is 6 dB wide: with a part p of it taken above, its middle is 3·p lower. 3.5 LU over need 1.5 dB: a half.
    [Fact]
    public void The_others_are_lowered_before_the_lead_is_raised() =>
        Assert.Equal(["0:-10 80:-10", "0:-13.5 80:-13.5"], Rides(clear: 3.5));

    // 3.1 LU over need 1.1 dB, a part of 0.3667: the least of whole 64ths is 24.
    [Fact]
    public void The_others_are_lowered_by_no_more_than_a_64th_of_their_width_too_much() =>
        Assert.Equal(-12 - 3 * 24 / 64.0, Fit(clear: 3.1)[1].Ride.At(40)!.Value.Value, 1e-6);

    // 5 LU over: three quarters give 4.25 and no more; then the voice rises by 0.75 dB, three eighths of what 4 dB give.
    [Fact]
    public void When_the_others_are_down_the_lead_is_raised_within_its_level()
    {
        var fitted = Fit(clear: 5);
        Assert.Equal(-14.25, fitted[1].Ride.At(40)!.Value.Value, 1e-6);
        Assert.Equal(-9.25, fitted[0].Ride.At(40)!.Value.Value, 1e-6);
    }

    [Fact]
    public void What_cannot_be_met_leaves_every_source_within_its_level()
    {
        var fitted = Fit(clear: 20);
        Assert.All(fitted, source => Assert.Empty(source.Widened));
        Assert.All(fitted[0].Ride.Vertices, vertex => Assert.InRange(vertex.Gain!.Value.Value, -12 - 1e-6, -8 + 1e-6));
        Assert.All(fitted[1].Ride.Vertices, vertex => Assert.InRange(vertex.Gain!.Value.Value, -15 - 1e-6, -9 + 1e-6));
    }

    [Fact]
    public void A_mark_may_ask_to_be_clear()
    {
        var mark = Assert.Single(Plans.Read(Plans.WithMarks("9..13: -18 > -6 clear 4 LU")).Levels[0].Marks);
        Assert.Equal((4.0, 9), (mark.Clear!.Value.Value, mark.From.Anchor == "9" ? 9 : 0));
    }

    private static string[] Rides(double? clear) => [.. Fit(clear).Select(source => Spoken(source.Ride))];

    private static IReadOnlyList<FittedSource> Fit(double? clear)
    {
        var level = new Level.At(Decibels.Of(-10));
        var mark = new Mark(Position.End, null, level, level, default) { Clear = clear is { } by ? Decibels.Of(by) : null };
        var voice = Line(new LevelSegment.Straight(Quarters.Zero, new Quarters(80), mark, Decibels.Of(-10), Decibels.Of(-10)));
        return RideFitter.Fit(Bars, new Limits(), [Source(voice, _ => 0, "north.voice"), Source(Line(Held(0, 80, -12)), _ => 0, "north.engine", within: 3)]);
    }
}
