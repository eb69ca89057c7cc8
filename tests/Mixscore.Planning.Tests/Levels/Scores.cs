using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

/// <summary>Small timelines.</summary>
internal static class Scores
{
    /// <summary>
    /// Twenty bars of four quarters at 60 quarters a minute; letter C at bar 15.
    /// <code>
    /// bar       1   2   3  …  15  …  20  end
    /// quarters  0   4   8  …  56  …  76  80
    /// </code>
    /// </summary>
    internal static Timeline Twenty { get; } = Of(Enumerable.Range(1, 20).Select(i => ($"{i}", i, 1)), new PlayedLetter("C", 15));

    /// <summary>Bars 1 to 4, then 1 to 4 again, then 5: a repeat.</summary>
    internal static Timeline Repeat { get; } =
        Of(Enumerable.Range(1, 4).Select(i => ($"{i}", i, 1)).Concat(Enumerable.Range(1, 4).Select(i => ($"{i}", i, 2))).Append(("5", 5, 1)));

    private static Timeline Of(IEnumerable<(string Label, int Written, int Pass)> bars, params PlayedLetter[] letters)
    {
        var length = new Quarters(4);
        var played = bars.Select((bar, i) => new PlayedBar
        {
            Index = i + 1,
            Label = bar.Label,
            Written = bar.Written,
            Pass = bar.Pass,
            Meter = Meter.Common,
            Start = new Quarters(4 * i),
            Length = length,
            Beats = PlayedBar.BeatsOf(new Quarters(4 * i), length, Meter.Common),
        }).ToList();
        return new Timeline(played, letters, new TempoMap([new TempoPiece(Quarters.Zero, 60)]));
    }
}
