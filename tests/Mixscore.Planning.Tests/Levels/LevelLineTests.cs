using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

public sealed class LevelLineTests
{
    private static readonly Decibels Bottom = Decibels.Of(-60);

    // The design's example: off, a held level, a move whose end is held, a level that leans.
    //   bar  1     5       9         13     C=15      end
    //        |-off-|--18---|-18>-6---|--6---|-leaning-|
    [Fact]
    public void Marks_are_held_until_the_next_and_moves_hold_their_end()
    {
        var line = Line("1: off", "5: -18", "9..13: -18 > -6", "13: -6", "C: under north.horn by 8");
        Assert.Equal(["0-16 off", "16-32 -18", "32-48 -18>-6", "48-56 -6", "56-80 north.horn -8"], line.Segments.Select(Spoken));
        Assert.Equal(["16", "56"], line.Steps.Select(step => step.At.ToString()));
        Assert.Equal(-12, line.LevelAt(40)!.Value.Value, 12);
        Assert.Null(line.LevelAt(3));
        Assert.Equal(["north.horn"], line.LeansOn);
    }

    [Fact]
    public void Range_with_one_level_holds_it_over_the_range_and_on() =>
        Assert.Equal(["0-32 unmarked", "32-56 -9", "56-80 off"], Line("9..13: -9", "15: off").Segments.Select(Spoken));

    [Fact]
    public void A_source_without_marks_is_unmarked_throughout()
    {
        var line = Line();
        Assert.Equal(["0-80 unmarked"], line.Segments.Select(Spoken));
        Assert.True(line.IsSilent);
        Assert.Empty(line.Steps);
    }

    [Fact]
    public void Marks_may_stand_in_any_order() =>
        Assert.Equal(["0-16 -6", "16-80 -18"], Line("5: -18", "1: -6").Segments.Select(Spoken));

    [Fact]
    public void Moves_from_off_rise_from_the_bottom_and_begin_off()
    {
        var line = Line("1..5: off > -6", "5..9: -6 > off");
        Assert.Equal(["0-16 off>-6", "16-32 -6>off", "32-80 off"], line.Segments.Select(Spoken));
        Assert.Empty(line.Steps);
        Assert.Null(line.LevelAt(0));
        Assert.Equal(-33, line.LevelAt(8)!.Value.Value, 12);
        Assert.Equal(-6, line.LevelAt(16)!.Value.Value, 12);
        Assert.Null(line.LevelAt(32));
    }

    [Fact]
    public void A_leaning_level_follows_what_is_heard()
    {
        var line = Line("1: under north.horn, north.engine by 6");
        Assert.Throws<InvalidOperationException>(() => line.LevelAt(0));
        Assert.Equal(Decibels.Of(-16), line.LevelAt(0, (sources, _) => sources.Count == 2 ? Decibels.Of(-10) : null));
        Assert.Null(line.LevelAt(0, (_, _) => null));
    }

    [Fact]
    public void A_mark_without_a_pass_is_the_first_time_through_and_holds_through_the_second()
    {
        var line = Build(Scores.Repeat, "1: -6", "3@2: -12");
        Assert.Equal(["0-24 -6", "24-36 -12"], line.Segments.Select(Spoken));
    }

    [Fact]
    public void Segments_with_gaps_are_refused()
    {
        var off = new LevelSegment.Off(Quarters.Zero, new Quarters(4), null);
        Assert.Throws<ArgumentException>(() => new LevelLine([off, off with { From = new Quarters(5), To = new Quarters(6) }], Bottom));
        Assert.Throws<ArgumentException>(() => new LevelLine([], Bottom));
    }

    // Laws: the line covers the piece without gap; a mark's level is what is heard at it; it leaps at its steps and nowhere else.
    [Fact]
    public void Lines_cover_the_piece_and_leap_only_at_their_steps()
    {
        var mark = Gen.Select(Gen.Int[0, 79], Gen.Int[0, 12], Gen.Int[-30, 0], Gen.Int[-30, 0]);
        mark.Array[0, 12].Sample(drawn =>
        {
            var marks = drawn.Select((one, i) =>
                Mark(one.Item1, one.Item2 == 0 ? null : Math.Min(80, one.Item1 + one.Item2), one.Item3, one.Item4, i + 1))
                .Select(one => PlacedMark.Place(one, "a.b", Scores.Twenty, new FaultList())!);
            var faults = new FaultList();
            var kept = PlacedMark.InOrder(marks, "a.b", faults);
            Assert.Equal(drawn.Length - kept.Count == 0, faults.IsEmpty);
            var line = LevelLineBuilder.Build(kept, Scores.Twenty.End, Bottom);

            Assert.Equal(Quarters.Zero, line.Segments[0].From);
            Assert.Equal(Scores.Twenty.End, line.Segments[^1].To);
            Assert.All(line.Segments.Zip(line.Segments.Skip(1)), pair => Assert.Equal(pair.First.To, pair.Second.From));
            foreach (var one in kept)
            {
                Assert.Equal(((Level.At)one.Mark.Start).OverReference.Value, line.LevelAt(one.From.ToDouble())!.Value.Value, 9);
                Assert.Same(one.Mark, line.SegmentAt(one.From).Mark);
            }
            var steps = line.Steps.Select(step => step.At.ToDouble()).ToHashSet();
            for (var at = 0.25; at < 80; at += 0.25)
            {
                Assert.Same(line.SegmentAt(at), line.SegmentAt(new Quarters((long)(at * 4), 4)));
                var leaps = Math.Abs((line.LevelAt(at)?.Value ?? -999) - (line.LevelAt(at - 1e-9)?.Value ?? -999)) > 1e-6;
                Assert.Equal(steps.Contains(at), leaps);
            }
        }, iter: 300);
    }

    private static Mark Mark(int from, int? to, int start, int end, int line)
    {
        var level = new Level.At(Decibels.Of(start));
        return new Mark(Scores.Twenty.PositionAt(new Quarters(from)), to is { } t ? Scores.Twenty.PositionAt(new Quarters(t)) : null,
            level, to is null ? level : new Level.At(Decibels.Of(end)), new Place("t", line, 1));
    }

    private static LevelLine Line(params string[] marks) => Build(Scores.Twenty, marks);

    private static LevelLine Build(Timeline timeline, params string[] marks)
    {
        var faults = new FaultList();
        var levels = Plans.Read(Plans.WithMarks(marks)).Levels;
        var placed = levels.SelectMany(list => list.Marks).Select(mark => PlacedMark.Place(mark, "north.voice", timeline, faults)!);
        var line = LevelLineBuilder.Build(PlacedMark.InOrder(placed, "north.voice", faults), timeline.End, Bottom);
        faults.ThrowIfAny();
        return line;
    }

    private static string Spoken(LevelSegment segment) => $"{segment.From}-{segment.To} " + segment switch
    {
        LevelSegment.Off { IsUnmarked: true } => "unmarked",
        LevelSegment.Straight { IsHeld: true } held => $"{held.Start!.Value.Value}",
        LevelSegment.Straight move => $"{Number(move.Start)}>{Number(move.End)}",
        LevelSegment.Leaning lean => $"{string.Join('+', lean.Sources)} {lean.By.Value}",
        _ => "off",
    };

    private static string Number(Decibels? level) => level is { } number ? $"{number.Value}" : "off";
}
