using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Levels;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Draft;

/// <summary>Twenty bars of four quarters; places are quarters from the start. What a draft reads into them is common
/// practice, no source.</summary>
public sealed class FirstMarksTests
{
    [Fact]
    public void A_dynamic_lasts_until_the_next() => Assert.Equal(["1: p", "9: f"], Drafted(Marks("0 p", "32 f")));

    [Fact]
    public void Until_the_first_dynamic_it_is_mezzo_forte() => Assert.Equal(["1: mf", "9: f"], Drafted(Marks("32 f")));

    [Fact]
    public void The_same_dynamic_again_is_not_written_again() => Assert.Equal(["1: p", "10: f"], Drafted(Marks("0 p", "16 p", "36 f")));

    //  0 p       16 <------ 31  32 f          the goal stands a beat after the hairpin's end
    [Theory]
    [InlineData(32)]
    [InlineData(31)]
    public void A_hairpin_moves_to_the_dynamic_at_its_end(int end) =>
        Assert.Equal(["1: p", "5..9: p > f"], Drafted(Marks("0 p", "32 f"), [Hairpin(16, end, grows: true)]));

    [Fact]
    public void A_hairpin_without_a_goal_moves_one_step_of_the_table() =>
        Assert.Equal(["1: p", "5..9: p > mp", "12: f", "13..14: f > mf"],
            Drafted(Marks("0 p", "44 f"), [Hairpin(16, 32, grows: true), Hairpin(48, 52, grows: false)]));

    [Fact]
    public void A_dynamic_on_the_wrong_side_is_not_a_hairpins_goal() =>
        Assert.Equal(["1: p", "5..9: p > mp", "9: pp"], Drafted(Marks("0 p", "32 pp"), [Hairpin(16, 32, grows: true)]));

    [Fact]
    public void A_dynamic_inside_a_hairpin_parts_it() =>
        Assert.Equal(["1: p", "5..7: p > mf", "7..9: mf > ff"], Drafted(Marks("0 p", "24 mf", "32 ff"), [Hairpin(16, 32, grows: true)]));

    [Fact]
    public void Two_hairpins_swell_and_come_back() =>
        Assert.Equal(["1: p", "5..6: p > mp", "6..7: mp > p"],
            Drafted(Marks("0 p"), [Hairpin(16, 20, grows: true), Hairpin(20, 24, grows: false)]));

    [Fact]
    public void Forte_piano_falls_at_once_and_accents_set_no_level()
    {
        Assert.Equal(["1: f", "3: p", "5: mf", "6: pp"], Drafted(Marks("0 f", "8 fp", "12 sfz", "16 mf", "17 sf", "20 sfpp")));
        FirstMarks.Of(Marks("0 f", "12 sfz", "17 sf"), Scores.Twenty, DynamicsTable.Ours, out var touches);
        Assert.Equal(2, touches);
    }

    [Fact]
    public void Niente_is_off() =>
        Assert.Equal(["1: p", "5..9: p > off", "11..13: off > f", "15: off"],
            Drafted(Marks("0 p", "48 f", "56 n"),
                [Hairpin(16, 32, grows: false, niente: true), Hairpin(40, 48, grows: true, niente: true)]));

    [Fact]
    public void What_lies_beyond_the_table_is_its_end() => Assert.Equal(["1: ppp", "3: fff"], Drafted(Marks("0 ppppp", "8 ffff")));

    [Fact]
    public void Words_move_to_the_next_dynamic_or_say_a_level()
    {
        PerformedWords[] words =
        [
            new(new Quarters(16), "cresc.", LoudnessChange.Grows, null, 5, 1, 1),
            new(new Quarters(48), "sempre pp", LoudnessChange.Level, null, 13, 1, 1),
            new(new Quarters(56), "più f", LoudnessChange.Louder, null, 15, 1, 1),
        ];
        Assert.Equal(["1: p", "5..9: p > f", "13: pp", "15: p"], Drafted(Marks("0 p", "32 f") with { Words = words }));
    }

    // cresc. p to its dashes' end; without dashes or a goal over four bars (our own figure); cut where dim. begins; to and from nothing.
    [Fact]
    public void Words_without_a_goal_move_one_step()
    {
        Assert.Equal(["1: p", "5..7: p > mp"], Drafted(Marks("0 p") with { Words = [Said(16, "cresc.", LoudnessChange.Grows, 24)] }));
        Assert.Equal(["1: p", "5..9: p > mp"], Drafted(Marks("0 p") with { Words = [Said(16, "cresc.", LoudnessChange.Grows)] }));
        Assert.Equal(["1: p", "5..6: p > mp", "6..9: mp > pp"],
            Drafted(Marks("0 p", "32 pp") with { Words = [Said(16, "cresc.", LoudnessChange.Grows), Said(20, "dim.", LoudnessChange.Falls)] }));
        Assert.Equal(["1: p", "5..9: p > off", "11: f"], Drafted(Marks("0 p", "40 f") with { Words = [Said(16, "dim. al niente", LoudnessChange.Falls, 32)] }));
        Assert.Equal(["1: p", "5..9: off > f"], Drafted(Marks("0 p", "32 f") with { Words = [Said(16, "cresc. dal niente", LoudnessChange.Grows)] }));
    }

    // A hairpin led to mp; "più f" is a step from there, not from the p before it.
    [Fact]
    public void Louder_is_a_step_from_what_is_reached() =>
        Assert.Equal(["1: p", "5..9: p > mp", "11: mf", "13: mp"],
            Drafted(Marks("0 p") with { Words = [Said(40, "più f", LoudnessChange.Louder), Said(48, "meno f", LoudnessChange.Softer)] }, Hairpin(16, 32, grows: true)));

    [Theory]
    [InlineData("mfp", "p")]
    [InlineData("sffp", "p")]
    [InlineData("sfzp", "p")]
    [InlineData("ffp", "p")]
    [InlineData("pf", "f")]
    [InlineData("p sub.", "p")]
    [InlineData("ff possibile", "ff")]
    [InlineData("ppppp", "ppp")]
    [InlineData("mezzo forte", "mf")]
    public void A_compound_dynamic_sets_the_level_of_what_lasts(string text, string level) =>
        Assert.Equal([$"1: {level}"], Drafted(new PerformedMark(Quarters.Zero, text, 1, 1, 1, null)));

    [Theory]
    [InlineData("sf")]
    [InlineData("sfz")]
    [InlineData("sffz")]
    [InlineData("fz")]
    [InlineData("rf")]
    [InlineData("rfz")]
    public void An_accent_is_a_touch_whatever_it_sounds_like(string text) =>
        Assert.Equal(["1: mf"], Drafted(new PerformedMark(new Quarters(8), text, 1, 1, 1, 124)));

    // Percent of forte as several programs write it; only where nothing is printed that can be read.
    [Fact]
    public void Loudness_for_playing_counts_where_nothing_is_printed()
    {
        Assert.Equal(["1: mf", "3: ff"], Drafted(new PerformedMark(new Quarters(8), "wild", 1, 1, 1, 112)));
        Assert.Equal(["1: p", "3: mf"], Drafted(Marks("0 p") with { SoundLevels = [new PerformedLevel(Quarters.Zero, 140, 1), new PerformedLevel(new Quarters(8), 89, 1)] }));
    }

    // The upper staff plays forte, the lower piano; words on the lower, none on the third.
    [Fact]
    public void A_staff_of_a_part_has_the_dynamics_of_that_staff()
    {
        PerformedMark[] marks = [new(Quarters.Zero, "f", 1, 1, 1, null), new(Quarters.Zero, "p", 1, 1, 2, null)];
        var part = Part(marks, [], (0, 80)) with
        {
            Notes = [new(Quarters.Zero, new Quarters(80), 72, null, 1), new(Quarters.Zero, new Quarters(40), 48, null, 2), new(Quarters.Zero, new Quarters(80), 36, null, 3)],
        };
        Assert.Equal(["1: f"], Drafted(part.OnStaff(1)));
        Assert.Equal(["1: p", "11: off"], Drafted(part.OnStaff(2)));
        Assert.Equal(["1: f"], Drafted(part.OnStaff(3)));   // nothing is said there: what is said between the staves means it too
    }

    private static PerformedWords Said(int at, string words, LoudnessChange change, int? to = null) =>
        new(new Quarters(at), words, change, to is { } end ? new Quarters(end) : null, at / 4 + 1, 1, 1);

    private static string[] Drafted(PerformedMark mark) => Drafted(Part((PerformedMark[])[mark], [], (0, 80)));

    // Notes sound up to bar 3 and from bar 6 on: three bars' rest.
    [Fact]
    public void A_rest_of_two_bars_or_more_is_off()
    {
        Assert.Equal(["1: p", "3: off", "6: p"], Drafted(Part(Marks("0 p"), [], (0, 8), (20, 60))));
        Assert.Equal(["1: p", "3: off", "6:2: p"], Drafted(Part(Marks("0 p"), [], (0, 7), (21, 59))));
        Assert.Equal(["1: p"], Drafted(Part(Marks("0 p"), [], (0, 8), (12, 68))));
        Assert.Equal(["1: p"], Drafted(Part(Marks("0 p"), [], (0, 9), (19, 61))));
    }

    [Fact]
    public void Rests_at_the_beginning_and_the_end_are_off() =>
        Assert.Equal(["1: off", "3: f", "9: off"], Drafted(Part(Marks("0 p", "4 f"), [], (8, 24))));

    [Fact]
    public void A_dynamic_in_a_rest_holds_when_the_part_comes_back() =>
        Assert.Equal(["1: p", "3: off", "11: ff"], Drafted(Part(Marks("0 p", "36 ff"), [Hairpin(12, 16, grows: true)], (0, 8), (40, 40))));

    [Fact]
    public void Marks_are_written_for_every_pass()
    {
        var part = Part([.. Marks("0 p", "8 f", "16 p", "24 f").Dynamics], [], (0, 36));
        Assert.Equal(["1: p", "3: f", "1@2: p", "3@2: f"], FirstMarks.Of(part, Scores.Repeat, DynamicsTable.Ours, out _).Select(Written));
    }

    [Fact]
    public void The_plans_table_decides_what_a_step_is()
    {
        var table = new DynamicsTable(new Dictionary<string, Decibels> { ["p"] = Decibels.Of(-20), ["f"] = Decibels.Of(-5) });
        Assert.Equal(["1: p", "5..9: p > f"],
            FirstMarks.Of(Part(Marks("0 p"), [Hairpin(16, 32, grows: true)], (0, 80)), Scores.Twenty, table, out _).Select(Written));
    }

    // Laws: a draft can be laid on its score without a fault, and where a dynamic stands the level is what it says, unless a
    // rest or a hairpin has the word.
    [Fact]
    public void Any_draft_lies_on_its_score_and_says_what_is_printed()
    {
        var mark = Gen.Select(Gen.Int[0, 158],
            Gen.OneOf([.. DynamicsTable.Ours.Names.Select(Gen.Const), Gen.Const("sfz"), Gen.Const("fp"), Gen.Const("n")]));
        var hairpin = Gen.Select(Gen.Int[0, 158], Gen.Int[1, 16], Gen.Bool, Gen.Int[0, 9]);
        var note = Gen.Select(Gen.Int[0, 158], Gen.Int[1, 24]);
        Gen.Select(mark.Array[0, 10], hairpin.Array[0, 6], note.Array[0, 10]).Sample((marks, hairpins, notes) =>
        {
            var part = new PerformedPart
            {
                Id = "P1",
                Name = "",
                Dynamics = [.. marks.OrderBy(one => one.Item1).Select(one => new PerformedMark(Half(one.Item1), one.Item2, 1, 1, 1, null))],
                Hairpins = [.. hairpins.OrderBy(one => one.Item1)
                    .Select(one => new PerformedHairpin(Half(one.Item1), Quarters.Min(Half(one.Item1 + one.Item2), Scores.Twenty.End),
                    one.Item3, one.Item4 == 0, 1, false))],
                Notes = [.. notes.OrderBy(one => one.Item1)
                    .Select(one => new PerformedNote(Half(one.Item1), Half(one.Item2), 60, null, 1))],
                Words = [],
            };
            var drafted = FirstMarks.Of(part, Scores.Twenty, DynamicsTable.Ours, out _);
            var faults = new FaultList();
            var placed = PlacedMark.InOrder(drafted.Select(one => PlacedMark.Place(one, "a.b", Scores.Twenty, faults)!), "a.b", faults);
            faults.ThrowIfAny();
            var line = LevelLineBuilder.Build(placed, Scores.Twenty.End, Decibels.Of(-60));
            Assert.NotNull(line.Segments[0].Mark);

            var rests = Rests.Of(part.Notes, Scores.Twenty);
            Assert.All(rests, rest => Assert.IsType<LevelSegment.Off>(line.SegmentAt(rest.From)));
            foreach (var one in part.Dynamics.Where(one => DynamicsTable.Ours[one.Text] is not null))
            {
                var alone = part.Dynamics.Count(other => other.At == one.At) == 1
                    && !rests.Any(rest => one.At >= rest.From && one.At < rest.To);
                var swells = part.Hairpins.Any(other => other.From <= one.At && other.To + new Quarters(2) >= one.At);
                if (alone && !swells) Assert.Equal(DynamicsTable.Ours[one.Text], line.LevelAt(one.At.ToDouble()));
            }
        }, iter: 500);
    }

    private static Quarters Half(int halves) => new(halves, 2);

    private static string[] Drafted(PerformedPart part, params PerformedHairpin[] hairpins) =>
        [.. FirstMarks.Of(hairpins.Length > 0 ? part with { Hairpins = hairpins } : part, Scores.Twenty, DynamicsTable.Ours, out _)
            .Select(Written)];

    private static string Written(Mark mark) =>
        $"{mark.From}{(mark.To is null ? "" : $"..{mark.To}")}: {LevelText.Write(mark.Start, mark.End)}";

    private static PerformedHairpin Hairpin(int from, int to, bool grows, bool niente = false) =>
        new(new Quarters(from), new Quarters(to), grows, niente, 1, false);

    /// <summary>A part that sounds throughout, with these marks: quarters and letters.</summary>
    private static PerformedPart Marks(params string[] marks) => Part(marks, [], (0, 80));

    private static PerformedPart Part(PerformedPart part, PerformedHairpin[] hairpins, params (int From, int Length)[] notes) =>
        Part([.. part.Dynamics], hairpins, notes);

    private static PerformedPart Part(string[] marks, PerformedHairpin[] hairpins, params (int From, int Length)[] notes) =>
        Part([.. marks.Select(mark => mark.Split(' '))
            .Select(mark => new PerformedMark(new Quarters(int.Parse(mark[0])), mark[1], 1, 1, 1, null))], hairpins, notes);

    private static PerformedPart Part(PerformedMark[] marks, PerformedHairpin[] hairpins, params (int From, int Length)[] notes) => new()
    {
        Id = "P1",
        Name = "",
        Dynamics = marks,
        Hairpins = hairpins,
        Notes = [.. notes.Select(note => new PerformedNote(new Quarters(note.From), new Quarters(note.Length), 60, null, 1))],
        Words = [],
    };
}
