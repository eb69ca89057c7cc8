using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Compare;

/// <summary>Sixteen bars of 4/4 at 120, bars 5 to 8 played twice, letters A at 5 and B at 9. Invented.</summary>
public sealed class PlanComparisonTests
{
    //  bar   1         5    8 5@2  8@2 9        16
    //        |-6-------|-9---------------------|      was
    //        |-6-------|-9----|-4----|-9-------|      becomes
    [Fact]
    public void A_level_is_told_where_it_differs_with_pass_letter_and_by_how_much()
    {
        var comparison = Compared(["1: -6", "5: -9"], ["1: -6", "5: -9", "5@2: -4", "9: -9"]);
        var change = Assert.Single(comparison.Levels);
        Assert.Equal(("5@2", "9", "A+4", "-9", "-4"), ($"{change.Stretch.From}", $"{change.Stretch.To}", change.Stretch.Letter, change.Was, change.Becomes));
        Assert.Equal(5, change.By!.Value.Value, 9);
        Assert.Equal([("5@2", (string?)null, "-4"), ("9", null, "-9")], comparison.Marks.Select(mark => (mark.At, mark.Was, mark.Becomes)));
    }

    // A mark at letter A is the mark at bar 5, and a level said twice is the level said once.
    [Fact]
    public void The_same_plan_in_other_words_asks_for_the_same()
    {
        var comparison = Compared(["1: -6", "5: -9"], ["1: -6", "A: -9", "7: -9"]);
        Assert.Empty(comparison.Levels);
        Assert.Equal(["7"], comparison.Marks.Select(mark => mark.At));
        Assert.False(comparison.IsSame);
        Assert.True(Compared(["1: -6", "5: -9"], ["1: -6", "A: -9"]).IsSame);
    }

    [Theory]
    [InlineData("9: -9 within 1 LU", "-9 within 1 LU", 0.0)]
    [InlineData("9..13: -9 > -5", "-9 > -5", 2.0)]
    [InlineData("9: under north.horn by 6", "under north.horn by 6", null)]
    [InlineData("9: off", "off", null)]
    public void What_is_asked_is_told_in_the_plan_s_own_words(string mark, string becomes, double? by)
    {
        var change = Compared(["1: -9"], ["1: -9", mark]).Levels[0];
        Assert.Equal(("9", "-9", becomes), ($"{change.Stretch.From}", change.Was, change.Becomes));
        Assert.Equal(by, change.By is { } higher ? Math.Round(higher.Value, 6) : null);
    }

    [Fact]
    public void What_is_said_once_is_told_by_its_key()
    {
        var text = Plans.WithMarks("1: -6");
        var comparison = Compared(text, text.Replace("stem: v.wav, strip: 1", "stem: v.wav, strip: 4, within: 1 LU, offset: +2 dB").Replace("38 ms", "40 ms") + "reference: -20 LUFS\ntempo: { 13: 60 }\n");
        Assert.Equal(
        [
            ("plan", "reference", "-23.0 LUFS", "-20.0 LUFS"), ("north", "link: delay", "38 ms", "40 ms"), ("north.voice", "strip", "1", "4"), ("north.voice", "within", "2 LU", "1 LU"), ("north.voice", "offset", "0 dB", "+2 dB"),
            ("plan", "tempo in 13 to 16", "8.0 s", "16.0 s"),
        ], comparison.Settings.Select(change => (change.Of, change.What, change.Was, change.Becomes)));
        // An offset raises all levels alike and is no other mark.
        Assert.Empty(comparison.Levels);
    }

    [Fact]
    public void Sources_and_bars_that_only_one_has_are_told_and_the_rest_is_compared()
    {
        var text = Plans.WithMarks("1: -6", "12: -3");
        var comparison = PlanComparison.Of(OnScore(text, Score()), OnScore(text.Replace("north.engine", "south.engine").Replace("north: {", "south: { link: { delay: 1 ms } }\n  north: {").Replace("12: -3", "12: -1"), Score(bars: 14)), null, Tolerance);
        Assert.Contains(new SettingChange("plan", "bars", "15, 16", ""), comparison.Settings);
        Assert.Contains(new SettingChange("south.engine", "", "", "new"), comparison.Settings);
        Assert.Contains(new SettingChange("north.engine", "", "", "gone"), comparison.Settings);
        Assert.Equal("12", $"{Assert.Single(comparison.Levels).Stretch.From}");
        Assert.Null(comparison.Rides);
    }

    //  quarter  0         16        32        48        80
    //           |0--------|0 to -6--|-6 to 0--|0--------|      against 0 all along
    [Fact]
    public void Rides_are_told_in_whole_beats_where_they_stand_apart_by_more_than_the_tolerance()
    {
        var onScore = OnScore(Plans.WithMarks("1: -6"), Score());
        var comparison = PlanComparison.Of(onScore, onScore, ([Ride((0, 0), (80, 0))], [Ride((0, 0), (16, 0), (32, -6), (48, 0), (80, 0))]), Tolerance);
        var change = Assert.Single(comparison.Rides!);
        // Over 1 dB from 2.67 quarters behind quarter 16 to 2.67 before quarter 48.
        Assert.Equal(("5:3", "8@2:3"), ($"{change.Stretch.From}", $"{change.Stretch.To}"));
        Assert.Equal((-6, -3.5), (change.Most!.Value.Value, change.By!.Value.Value), Near);
    }

    [Fact]
    public void A_fader_that_is_off_in_one_of_the_two_is_elsewhere()
    {
        var onScore = OnScore(Plans.WithMarks("1: -6"), Score());
        var change = Assert.Single(PlanComparison.Of(onScore, onScore, ([Ride((0, -10), (80, -10))], [Ride((0, -10), (40, -10), (41, null), (80, null))]), Tolerance).Rides!);
        Assert.Equal(("7@2", "end"), ($"{change.Stretch.From}", $"{change.Stretch.To}"));
        Assert.Null(change.Most);
    }

    // Laws: a plan is itself; and whoever is compared the other way round differs in the same places, by as much the other way.
    [Fact]
    public void Compared_the_other_way_round_the_same_places_differ_the_other_way() =>
        Gen.Select(Marks, Marks).Sample((one, other) =>
        {
            Assert.True(Compared(one, one).IsSame);
            var (there, back) = (Compared(one, other), Compared(other, one));
            Assert.Equal(there.Levels.Select(change => (change.Stretch, change.Was, change.Becomes)), back.Levels.Select(change => (change.Stretch, change.Becomes, change.Was)));
            Assert.All(there.Levels.Zip(back.Levels), pair => Assert.Equal(pair.First.By?.Value ?? 0, -pair.Second.By?.Value ?? 0, 9));
            Assert.Equal(there.Marks.Count, back.Marks.Count);
        }, iter: 300);

    private static readonly Decibels Tolerance = PlanComparison.UsualTolerance;

    private static readonly Gen<string[]> Marks = Gen.Select(Gen.Int[1, 16], Gen.Int[-20, 0], Gen.Int[0, 3]).Select((bar, level, kind) => (bar, level, kind)).Array[1, 6].Select(marks => marks
        .DistinctBy(mark => mark.bar).OrderBy(mark => mark.bar).Select(mark => $"{mark.bar}: {(mark.kind == 0 ? "off" : mark.kind == 1 ? $"{mark.level} within 1 LU" : $"{mark.level}")}").ToArray());

    private static IEqualityComparer<(double, double)> Near => EqualityComparer<(double, double)>.Create((a, b) => Math.Abs(a.Item1 - b.Item1) < 0.3 && Math.Abs(a.Item2 - b.Item2) < 0.3, _ => 0);

    private static Ride Ride(params (int Quarter, double? Db)[] corners) =>
        new("north.voice", [.. corners.Select(corner => new Vertex(new Quarters(corner.Quarter), corner.Db is { } db ? Decibels.Of(db) : null))], Decibels.Of(-60));

    private static PlanComparison Compared(string[] before, string[] after) => Compared(Plans.WithMarks(before), Plans.WithMarks(after));

    private static PlanComparison Compared(string before, string after) => PlanComparison.Of(OnScore(before, Score()), OnScore(after, Score()), null, Tolerance);

    private static PlanOnScore OnScore(string text, WrittenScore score) => PlanOnScore.Resolve(Plans.Read(text.Replace(", part: P1", "")), score);

    private static WrittenScore Score(int bars = 16) => new()
    {
        Title = "T",
        Bars = [.. Enumerable.Range(1, bars).Select(i => new WrittenBar
        {
            Number = i, Label = $"{i}", Meter = Meter.Common, Length = Meter.Common.Length,
            RepeatStarts = i == 5, Plays = i == 8 ? 2 : 1,
        })],
        Letters = [new WrittenLetter("A", 5), new WrittenLetter("B", 9)],
        Tempo = [new WrittenTempo(new WrittenPlace(1, Quarters.Zero), 120)],
    };
}
