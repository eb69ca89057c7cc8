using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Levels;

public sealed class PlanOnScoreTests
{
    private static readonly WrittenScore Score = new()
    {
        Title = "T",
        Bars = [],
        Parts = [new() { Id = "P1", Name = "Horn" }, new() { Id = "P2", Name = "Engine" }, new() { Id = "P3", Name = "Engine" }],
    };

    [Theory]
    [InlineData("21: off", "MX130 12,5")]                // past the end
    [InlineData("3:5: off", "MX130 12,5")]               // a beat that the bar has not
    [InlineData("3@2: off", "MX130 12,5")]               // a pass that is not played
    [InlineData("X: off", "MX130 12,5")]                 // no such letter
    [InlineData("C+9: off", "MX130 12,5")]
    [InlineData("9..X: off", "MX130 12,5")]
    [InlineData("X..Y: off", "MX130 12,5", "MX130 12,5")]
    [InlineData("end: off", "MX131 12,5")]
    [InlineData("9..9: off", "MX131 12,5")]
    [InlineData("13..9: -6 > -3", "MX131 12,5")]
    public void Positions_that_the_score_has_not_are_named(string mark, params string[] expected) => Assert.Equal(expected, Faults(mark));

    [Theory]
    [InlineData("overlapping ranges", "2..6: -6 > -3", "5..7: -3 > -6")]
    [InlineData("a mark inside a range", "2..6: -6 > -3", "5: off")]
    [InlineData("a mark inside a range, written first", "5: off", "2..6: -6 > -3")]
    [InlineData("one place by two names", "15: off", "C: -6")]
    [InlineData("one place by two texts", "15: off", "15:1: -6")]
    [InlineData("a mark where a range begins", "5: off", "5..7: -3 > -6")]
    public void Overlapping_marks_name_both_lines(string _, string first, string second)
    {
        var fault = Assert.Single(FaultsOf(first, second));
        Assert.Equal("MX132 13,5", $"{fault.Code} {fault.Place.Line},{fault.Place.Column}");
        Assert.EndsWith("on line 12", fault.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_range_reports_every_mark_that_stands_in_it() =>
        Assert.Equal(["MX132 13,5", "MX132 14,5"], Faults("1..20: -6 > -3", "5: off", "10: off"));

    [Fact]
    public void Ranges_that_share_an_end_do_not_overlap() =>
        Assert.Equal(["4", "16", "24"], Resolve(Plans.WithMarks("2..5: -6 > -3", "5..7: -3 > -9", "7: off"))["north.voice"]
            .Levels.Segments.Where(segment => segment.Mark is not null).Select(segment => segment.From.ToString()));

    [Fact]
    public void A_message_says_where_and_why() =>
        Assert.Equal("t.mix.yaml(12,5): north.voice, bar 3:5: bar 3 has 4 beats (4/4), so there is no beat 5; write a position that the score has. [MX130]", FaultsOf("3:5: off").Single().ToString());

    [Theory]
    [InlineData("P1", "P1")]
    [InlineData("Horn", "P1")]
    [InlineData("horn", "P1")]
    public void Parts_are_found_by_id_or_by_name(string written, string id) =>
        Assert.Equal(id, Resolve(Plans.Head.Replace("part: P1", "part: " + written, StringComparison.Ordinal))["north.horn"].Part?.Id);

    [Theory]
    [InlineData("Hron", "perhaps you mean \"Horn\"")]
    [InlineData("Bassoon", "its parts are P1, P2, P3, Horn, Engine")]
    [InlineData("Engine", "write an id: P2, P3")]
    public void A_part_that_the_score_has_not_is_named(string written, string remedy)
    {
        var fault = Assert.Single(Assert.Throws<InputException>(() =>
            Resolve(Plans.Head.Replace("part: P1", "part: " + written, StringComparison.Ordinal))).Faults);
        Assert.Equal(("MX133", new Place("t.mix.yaml", 7, 64), remedy), (fault.Code, fault.Place, fault.Remedy));
    }

    [Fact]
    public void Those_that_are_leaned_on_are_fitted_first()
    {
        var plan = Resolve(Plans.Head + """
            levels:
              north.voice:
                1: over north.horn, north.engine by 3
              north.horn:
                1: under north.engine by 8
              north.engine:
                1: -18
            """);
        Assert.Equal(["north.engine", "north.horn", "north.voice"], plan.FittingOrder.Select(source => source.Source.Name));
        Assert.Equal(["north.voice", "north.horn", "north.engine"], plan.Sources.Select(source => source.Source.Name));
        Assert.Empty(plan.Warnings);
    }

    [Fact]
    public void Leaning_on_a_source_that_is_nowhere_heard_is_a_warning()
    {
        var warning = Assert.Single(Resolve(Plans.WithMarks("1: under north.horn by 3")).Warnings);
        Assert.Equal(("MX135", Severity.Warning, 12), (warning.Code, warning.Severity, warning.Place.Line));
    }

    [Fact]
    public void Pins_are_found_in_order_and_a_window_is_read()
    {
        var plan = Resolve(Plans.Head.Replace("strip: 1", "strip: 1, window: 8 s", StringComparison.Ordinal) + "pins:\n  north.voice: { 8..10: -6 > -2, 3: -4, 10..11: -2 }\n");
        Assert.Equal(["8:8 -4 -4", "28:36 -6 -2", "36:40 -2 -2"], plan["north.voice"].Pins.Select(pin => $"{pin.From}:{pin.To} {pin.Start.Value} {pin.End.Value}"));
        Assert.Equal((8.0, 3.0), (plan["north.voice"].Source.Window.Value, plan["north.horn"].Source.Window.Value));
    }

    // At 24 dB/s and a beat a second.
    [Theory]
    [InlineData("2: +11", "MX111")]                     // over the fader's top
    [InlineData("2:1+1/2: -4", "MX136")]                // between two beats
    [InlineData("21: -4", "MX130")]                     // past the end
    [InlineData("2: -4, 2..3: -6", "MX132")]            // the same beat, another gain
    [InlineData("2..4: -4, 3..5: -4", "MX132")]
    [InlineData("2: 0, 2:3: -50", "MX137")]             // 50 dB in two beats
    [InlineData("2..2:2: 0 > -30", "MX137")]            // 30 dB in one
    public void A_pin_that_no_fader_can_keep_is_refused_where_it_stands(string pins, string code)
    {
        var fault = Assert.Single(Assert.Throws<InputException>(() => Resolve(Plans.Head + $"pins:\n  north.voice: {{ {pins} }}\n")).Faults);
        Assert.Equal((code, 11), (fault.Code, fault.Place.Line));
    }

    [Theory]
    [InlineData("halves", "2:1+1/2", true)]
    [InlineData("halves", "2:1+1/3", false)]
    [InlineData("bars", "2", true)]
    [InlineData("bars", "2:2", false)]
    [InlineData("bars", "2..3: -4 > -6, 5", true)]
    public void A_pin_stands_where_the_grid_of_its_source_lets_vertices_stand(string grid, string pin, bool isTaken)
    {
        var text = Plans.Head.Replace("strip: 1", $"strip: 1, grid: {grid}", StringComparison.Ordinal) + $"pins:\n  north.voice: {{ {pin}: -4 }}\n";
        if (isTaken) Assert.NotEmpty(Resolve(text)["north.voice"].Pins);
        else Assert.Equal("MX136", Assert.Single(Assert.Throws<InputException>(() => Resolve(text)).Faults).Code);
    }

    private static PlanOnScore Resolve(string text) => PlanOnScore.Resolve(Plans.Read(text), Score, Scores.Twenty, new FaultList(), []);

    private static IReadOnlyList<Fault> FaultsOf(params string[] marks) =>
        Assert.Throws<InputException>(() => Resolve(Plans.WithMarks(marks))).Faults;

    private static string[] Faults(params string[] marks) =>
        [.. FaultsOf(marks).Select(fault => $"{fault.Code} {fault.Place.Line},{fault.Place.Column}")];
}
