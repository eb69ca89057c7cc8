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
        Of(Enumerable.Range(1, 4).Select(i => ($"{i}", i, 1)).Concat(Enumerable.Range(1, 4).Select(i => ($"{i}", i, 2)))
            .Append(("5", 5, 1)));

    /// <summary>
    /// <see cref="Twenty"/> as written, with a horn that plays in bars 5 to 12: p, and a hairpin from bar 9 to an f in bar 11.
    /// </summary>
    internal static WrittenScore WrittenTwenty { get; } = new()
    {
        Title = "T",
        Bars = [.. Enumerable.Range(1, 20)
            .Select(i => new WrittenBar { Number = i, Label = $"{i}", Meter = Meter.Common, Length = new Quarters(4) })],
        Letters = [new WrittenLetter("C", 15)],
        Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), 60)],
        Parts =
        [
            new Part
            {
                Id = "P1",
                Name = "Horn",
                Notes = [.. Enumerable.Range(5, 8)
                    .Select(bar => new WrittenNote(new WrittenPlace(bar, Quarters.Zero), new Quarters(4), 60))],
                Dynamics = [new DynamicMark(new WrittenPlace(5, Quarters.Zero), "p"),
                    new DynamicMark(new WrittenPlace(11, Quarters.Zero), "f")],
                Hairpins = [new Hairpin(new WrittenPlace(9, Quarters.Zero), new WrittenPlace(10, new Quarters(4)), Grows: true)],
            },
        ],
    };

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
