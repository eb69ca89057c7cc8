using Mixscore.Loudness;
using Mixscore.Score;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand: a beat is a quarter is a second; at 24 dB/s a fader can move 24 dB a beat.
public sealed class PinTests
{
    [Fact]
    public void A_pinned_vertex_is_kept_to_the_last_bit_and_the_rest_is_fitted_around_it()
    {
        var ride = Fitted(Source(Line(Held(0, 80, -18)), _ => -5) with { Pins = [At(32, -14.7)] }).Ride;
        Assert.Equal(-14.7, ride.At(32)!.Value.Value);
        Assert.All(Enumerable.Range(0, 801), i => Assert.InRange(ride.At(i / 10.0)!.Value.Value, -15 - 1e-6, -11 + 1e-6));
    }

    [Fact]
    public void A_pinned_stretch_out_of_its_band_is_told_and_nothing_else_is_given_up()
    {
        var fitted = Fitted(Source(Line(Held(0, 80, -18)), t => t is > 28 and < 32 or > 40 and < 44 ? null : -5) with { Pins = [Between(32, 40, -20, -20)] });
        Assert.Equal("bars 9–11: north.voice is pinned there, 5 dB further from its level than its 2 LU", Assert.Single(fitted.Widened).Text);
        Assert.Contains("32:-20 40:-20", Spoken(fitted.Ride), StringComparison.Ordinal);
        foreach (var t in Enumerable.Range(0, 801).Select(i => i / 10.0).Where(t => t is <= 28 or >= 44)) Assert.InRange(fitted.Ride.At(t)!.Value.Value, -15 - 1e-6, -11 + 1e-6);
    }

    // Off all the way; from the bottom to -12 are 48 dB, two beats at 24.
    [Fact]
    public void A_pin_within_a_stretch_off_opens_the_fader_for_itself_alone() =>
        Assert.Equal("0:off 38:off 40:-12 42:off 80:off", Spoken(Fitted(Source(Line(Night.Off(0, 80)), _ => 0) with { Pins = [At(40, -12)] }).Ride));

    private static Pin At(int quarters, double gain) => Between(quarters, quarters, gain, gain);

    private static Pin Between(int from, int to, double start, double end) =>
        new(new Quarters(from), new Quarters(to), Decibels.Of(start), Decibels.Of(end), new Place("a.mix.yaml", 1, 1));
}
