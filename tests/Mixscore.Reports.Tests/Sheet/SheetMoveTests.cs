using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Sheet;

public sealed class SheetMoveTests
{
    private static readonly Timeline FourBars = SampleSheet.Make(1, 4).Plan.Timeline;

    // Bars of 4/4; quarters are beats.
    [Fact]
    public void A_move_is_told_from_where_it_begins_over_its_beats() =>
        Assert.Equal(["1:1 → −6.0 dB over 2 beats", "1:3 → +3.2 dB over 1 beat", "2:1 → off over 4 beats", "3:1 → −0.5 dB over 2.5 beats"],
            Texts((0, 0), (2, -6), (3, 3.24), (4, 3.24), (8, null), (10.5, -0.5), (16, -0.5)));

    [Fact]
    public void Where_a_fader_stands_there_is_no_move() => Assert.Empty(Texts((0, -3), (5, -3), (16, -3)));

    [Fact]
    public void Off_to_off_is_no_move() => Assert.Empty(Texts((0, null), (16, null)));

    // A move that the figures round away is one all the same, with a plain nought.
    [Fact]
    public void A_small_move_is_told_too() => Assert.Equal(["1:1 → 0.0 dB over 16 beats"], Texts((0, 0.5), (16, -0.01)));

    private static IEnumerable<string> Texts(params (double At, double? Gain)[] vertices) => SheetMove.Of(FourBars,
        new Ride("north.voice", [.. vertices.Select(v => new Vertex(new Quarters((long)(v.At * 2), 2), v.Gain is { } gain ? Decibels.Of(gain) : null))], Decibels.Of(-60))).Select(move => move.Text);
}
