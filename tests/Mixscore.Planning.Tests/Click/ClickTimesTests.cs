using CsCheck;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Click;

/// <summary>When the click sounds. Strokes are drawn a letter each: A accent, b beat, s subdivision; a bar line before each bar.</summary>
public sealed class ClickTimesTests
{
    [Fact]
    public void Two_bars_are_counted_and_then_every_beat_clicks() =>
        Assert.Equal("|Abbb|Abbb‖Abbb|Abbb", Drawn(ClickTimes.Of(Piece(120, (Meter.Common, 4), (Meter.Common, 4)), new ClickSettings())));

    // 4/4 with a pickup of one quarter: the count-in ends "one two three", and the pickup is the fourth.
    [Fact]
    public void A_pickup_is_counted_to()
    {
        var click = ClickTimes.Of(Piece(60, (Meter.Common, 1), (Meter.Common, 4)), new ClickSettings());
        Assert.Equal("|Abbb|Abb‖b|Abbb", Drawn(click));
        Assert.Equal(7, click.Lead.Value, 1e-12);
    }

    // A repeat back to a pickup: the short last bar and the pickup make one bar, so the pickup is no first beat.
    [Fact]
    public void Two_short_bars_that_make_a_whole_one_are_counted_as_one() =>
        Assert.Equal("|Abb‖b|Abbb|Abb|b|Abbb", Drawn(ClickTimes.Of(Piece(60, (Meter.Common, 1), (Meter.Common, 4), (Meter.Common, 3), (Meter.Common, 1), (Meter.Common, 4)), new ClickSettings { CountIn = 1 })));

    // Derived from the meters' groups.
    [Theory]
    [InlineData("6/8", 6, 8, "AssbssAssbss")]
    [InlineData("9/8", 9, 8, "AssbssbssAssbssbss")]
    [InlineData("3/8", 3, 8, "AbbAbb")]
    [InlineData("3+2/8", 5, 8, "AssbsAssbs")]
    [InlineData("5/8", 5, 8, "AbbbbAbbbb")]
    [InlineData("6/4", 6, 4, "AbbbbbAbbbbb")]
    public void Groups_are_heard(string text, int beats, int unit, string expected)
    {
        var meter = new Meter(text, [.. Enumerable.Repeat(new Quarters(4, unit), beats)]);
        Assert.Equal(expected, string.Concat(ClickTimes.Of(Piece(90, (meter, null), (meter, null)), new ClickSettings { CountIn = 0 }).Strokes.Select(Letter)));
    }

    [Fact]
    public void Beats_of_different_length_each_click_at_their_place()
    {
        var meter = new Meter("2/4+3/8", [new Quarters(1), new Quarters(1), new Quarters(1, 2), new Quarters(1, 2), new Quarters(1, 2)]);
        var strokes = ClickTimes.Of(Piece(60, (meter, null)), new ClickSettings { CountIn = 0 }).Strokes;
        Assert.Equal([0, 1, 2, 2.5, 3], strokes.Select(stroke => Math.Round(stroke.Time.Value, 9)));
        Assert.Equal("Abbbb", string.Concat(strokes.Select(Letter)));
    }

    [Fact]
    public void Beats_are_divided_where_the_plan_asks_but_not_held_ones()
    {
        var timeline = Piece(60, (Meter.Common, 4));
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 0, Subdivide = 2 }, [new Quarters(5, 2)]);
        Assert.Equal("Asbsbbs", string.Concat(click.Strokes.Select(Letter)));
    }

    // A fermata on the first beat must not make the count-in crawl.
    [Fact]
    public void The_count_in_does_not_go_by_a_held_beat()
    {
        var timeline = new Timeline(Piece(60, (Meter.Common, 4)).Bars, [], new TempoMap([new TempoPiece(Quarters.Zero, 15), new TempoPiece(new Quarters(1), 120)]));
        Assert.Equal(2, ClickTimes.Of(timeline, new ClickSettings { CountIn = 1 }, [Quarters.Zero]).Lead.Value, 1e-12);
        Assert.Equal(3, ClickTimes.Of(timeline, new ClickSettings { CountIn = 1, CountInTempo = 80 }).Lead.Value, 1e-12);
    }

    [Fact]
    public void Bars_and_beats_are_told_from_the_piece_on_and_below_one_before_it()
    {
        var strokes = ClickTimes.Of(Piece(60, (Meter.Common, 4)), new ClickSettings { CountIn = 1 }).Strokes;
        Assert.Equal([(0, 1), (0, 2), (0, 3), (0, 4), (1, 1), (1, 2), (1, 3), (1, 4)], strokes.Select(stroke => (stroke.Bar, stroke.Beat)));
        Assert.Equal([-4, -3, -2, -1, 0, 1, 2, 3], strokes.Select(stroke => Math.Round(stroke.Time.Value, 9)));
    }

    // Over any tempo map: one stroke on each beat of the piece, at the timeline's own second; the count-in adds nothing to it.
    [Fact]
    public void Each_beat_of_the_piece_clicks_at_its_second() =>
        Gen.Select(Gen.Int[0, 3], Gen.Int[0, 4], Gen.Double[30, 240].Array[4], Gen.Bool).Sample((bars, pickup, tempi, changes) =>
        {
            var piece = Piece(60, [(Meter.Common, pickup is 0 or 4 ? null : pickup), (Meter.Common, null), (Meter.Simple(7, 8), null), (Meter.Simple(3, 4), null)]);
            var map = new TempoMap([new TempoPiece(Quarters.Zero, tempi[0], changes ? tempi[1] : tempi[0]), new TempoPiece(new Quarters(9, 2), tempi[2]), new TempoPiece(new Quarters(8), tempi[3])]);
            var timeline = new Timeline(piece.Bars, [], map);
            var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = bars });
            var times = click.Strokes.Where(stroke => stroke.Bar >= 1).Select(stroke => stroke.Time.Value).ToArray();
            var expected = timeline.BeatGrid.SkipLast(1).Select(beat => timeline.Tempo.SecondsAt(beat).Value).ToArray();
            return times.Length == expected.Length && times.Zip(expected).All(pair => Math.Abs(pair.First - pair.Second) < 1e-9)
                && click.Strokes.Count(stroke => stroke.Bar < 1) == Math.Max(0, bars * 4 - (bars > 0 && pickup is > 0 and < 4 ? pickup : 0));
        }, iter: 200);

    private static string Drawn(ClickTimes click)
    {
        var drawn = "";
        var bar = int.MinValue;
        foreach (var stroke in click.Strokes)
        {
            if (stroke.Bar != bar) drawn += stroke.Bar == 1 && bar < 1 && bar != int.MinValue ? '‖' : '|';
            bar = stroke.Bar;
            drawn += Letter(stroke);
        }
        return drawn;
    }

    private static char Letter(ClickStroke stroke) => stroke.Kind switch
    {
        ClickKind.Accent => 'A',
        ClickKind.Beat => 'b',
        _ => 's',
    };

    /// <summary>Bars of so many quarters each, or whole ones, at one tempo.</summary>
    private static Timeline Piece(double tempo, params (Meter Meter, int? Quarters)[] bars)
    {
        var played = new List<PlayedBar>();
        var at = Quarters.Zero;
        foreach (var (meter, quarters) in bars)
        {
            var length = quarters is { } q ? new Quarters(q) : meter.Length;
            played.Add(new PlayedBar { Index = played.Count + 1, Label = $"{played.Count + 1}", Written = played.Count + 1, Pass = 1, Meter = meter, Start = at, Length = length, Beats = PlayedBar.BeatsOf(at, length, meter) });
            at += length;
        }
        return new Timeline(played, [], new TempoMap([new TempoPiece(Quarters.Zero, tempo)]));
    }
}
