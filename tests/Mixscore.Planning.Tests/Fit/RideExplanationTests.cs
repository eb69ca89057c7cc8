using Mixscore.Score;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// A voice asked at -18 from bar 1 and -6 from bar 5, from a stem at -5 that rests in bars 15 to 17.
public sealed class RideExplanationTests
{
    [Fact]
    public void A_held_level_is_told_with_its_loudness_and_its_room() =>
        Assert.Equal(
            [
                "The fader of north.voice stands at -13.0 dB at 2, as it does from 1 to 4:4.",
                "-18.0 LU is asked for.",
                "Its stem arrives at -5.0 LU, so to sit within 0.5 LU of its level the fader may stand from -13.5 to -12.5 dB.",
                "It stands in the middle of that.",
            ],
            Explain(4));

    [Fact]
    public void A_move_is_told_with_both_its_ends()
    {
        var said = Explain(15);
        Assert.Contains(said, sentence => sentence.StartsWith("A step of its marks is made here", StringComparison.Ordinal));
    }

    [Fact]
    public void In_a_rest_nothing_is_asked() =>
        Assert.Contains(Explain(64), sentence => sentence.StartsWith("The source rests here", StringComparison.Ordinal));

    [Fact]
    public void A_source_that_is_not_there_is_a_bad_call() =>
        Assert.Throws<ArgumentException>(() => RideExplanation.Of(Bars, new Limits(), [], [], "north.voice", Quarters.Zero));

    private static IReadOnlyList<string> Explain(int quarters)
    {
        var source = Source(Line(Held(0, 16, -18), Held(16, 80, -6)), t => t is > 56 and < 70 ? null : -5, within: 0.5);
        return RideExplanation.Of(Bars, new Limits(), [source], [Fitted(source)], "north.voice", new Quarters(quarters));
    }
}
