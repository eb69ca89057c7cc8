using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Levels;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Edit;

public sealed class PlanEditorTests
{
    [Fact]
    public void Setting_a_mark_changes_its_value_and_keeps_its_comment() =>
        Assert.Equal(Plans.Ferry.Replace("5: -18  ", "5: mf  ", StringComparison.Ordinal),
            Edited(Plans.Ferry, editor => editor.SetMark("north.engine", At("5"), null, Dynamic("mf"), Dynamic("mf"))));

    [Fact]
    public void A_new_mark_stands_in_its_place() =>
        Assert.Equal(Plans.Ferry.Replace("    9..13:", "    7:3: -20  # by hand\n    9..13:", StringComparison.Ordinal),
            Edited(Plans.Ferry, editor => editor.SetMark("north.engine", At("7:3"), null, Number(-20), Number(-20), "by hand")));

    [Fact]
    public void A_new_mark_before_all_others_stands_first() =>
        Assert.Equal(Plans.WithMarks("1: -6 > -3", "4: off # rest").Replace("1: -6 > -3", "1..3: -6 > -3", StringComparison.Ordinal),
            Edited(Plans.WithMarks("4: off # rest"), editor => editor.SetMark("north.voice", At("1"), At("3"), Number(-6), Number(-3))));

    [Theory]
    [InlineData("5: -18", "5: -9  # by hand 2026-11-25, Quay")]
    [InlineData("5: -18 # five", "5: -9 # five; by hand 2026-11-25, Quay")]
    [InlineData("5: -18    # five; by hand 2026-11-24, Barn", "5: -9    # five; by hand 2026-11-25, Quay")]
    [InlineData("5: '-18' # by ear", "5: -9 # by ear; by hand 2026-11-25, Quay")]
    [InlineData("5: # to be set", "5: -9 # to be set; by hand 2026-11-25, Quay")]
    [InlineData("5: \"p\" ## loud?", "5: -9 # # loud?; by hand 2026-11-25, Quay")]
    public void A_note_stands_behind_what_a_person_wrote(string was, string becomes) =>
        Assert.Equal(Plans.WithMarks("1: off", becomes, "9: -6 # nine"), Edited(Plans.WithMarks("1: off", was, "9: -6 # nine"), editor =>
            editor.SetMark("north.voice", new Mark(At("5"), null, Number(-9), Number(-9), default), "by hand 2026-11-25, Quay")));

    [Fact]
    public void A_new_mark_has_its_note_and_what_it_is_clear_by() =>
        Assert.Equal(Plans.WithMarks("1: off", "5..7: -9 > -3 clear 4 LU  # by hand 2026-11-25"), Edited(Plans.WithMarks("1: off"), editor =>
            editor.SetMark("north.voice", new Mark(At("5"), At("7"), Number(-9), Number(-3), default) { Clear = Decibels.Of(4) }, "by hand 2026-11-25")));

    [Fact]
    public void Removing_a_mark_takes_its_line_and_no_other()
    {
        var text = Plans.WithMarks("1: off", "# about bar 5", "5: -18 # five", "9: -6");
        Assert.Equal(Plans.WithMarks("1: off", "# about bar 5", "9: -6"),
            Edited(text, editor => Assert.True(editor.RemoveMark("north.voice", At("5"), null))));
        Assert.Equal(text, Edited(text, editor => Assert.False(editor.RemoveMark("north.voice", At("6"), null))));
    }

    [Theory]
    [InlineData("", "levels:\n  north.horn:\n    1: mf  # drafted\n    3..5: p > f  # drafted\n")]
    [InlineData("levels:\n", "levels:\n  north.horn:\n    1: mf  # drafted\n    3..5: p > f  # drafted\n")]
    [InlineData("levels: {}   # none yet\n", "levels:   # none yet\n  north.horn:\n    1: mf  # drafted\n    3..5: p > f  # drafted\n")]
    [InlineData("levels:\n  north.horn:\nlimits: {}\n", "levels:\n  north.horn:\n    1: mf  # drafted\n    3..5: p > f  # drafted\nlimits: {}\n")]
    [InlineData("levels:\n    north.voice:\n        1: off", "levels:\n    north.voice:\n        1: off\n    north.horn:\n        1: mf  # drafted\n        3..5: p > f  # drafted\n")]
    [InlineData("levels: { north.voice: { 1: off } }\n", "levels: { north.voice: { 1: off }, north.horn: { 1: mf, 3..5: p > f } }\n")]
    [InlineData("levels: { north.horn: {} } # x", "levels: { north.horn: { 1: mf, 3..5: p > f } } # x")]
    public void First_marks_go_under_their_source(string was, string becomes) =>
        Assert.Equal(Plans.Head + becomes, Edited(Plans.Head + was, editor => editor.AddMarks("north.horn",
            [new Mark(At("1"), null, Dynamic("mf"), Dynamic("mf"), default),
                new Mark(At("3"), At("5"), Dynamic("p"), Dynamic("f"), default)], "drafted")));

    [Fact]
    public void First_marks_are_refused_where_there_are_some() =>
        Assert.Throws<ArgumentException>(() =>
            new PlanEditor(Plans.Ferry, "t").AddMarks("north.engine", [new Mark(At("1"), null, Number(0), Number(0), default)]));

    [Theory]
    [InlineData("reference: -23 LUFS", "reference: -16 LUFS", "-16 LUFS", "reference")]
    [InlineData("within: 2 LU }", "within: 3 LU }", "3 LU", "sources", "north.voice", "within")]
    [InlineData("part: P1 }", "part: P1, within: 4 LU }", "4 LU", "sources", "north.horn", "within")]
    [InlineData("title: Night Ferry", "title: \"Night: Ferry # 2\"", "Night: Ferry # 2", "title")]
    [InlineData("part: P1 }", "part: \"Horn, in F\" }", "Horn, in F", "sources", "north.horn", "part")]
    [InlineData("true-peak: -1 dBTP }\n", "true-peak: -1 dBTP }\ndynamics:\n  mf: -9\n", "-9", "dynamics", "mf")]
    public void Scalars_are_set_or_added(string was, string becomes, string value, params string[] path) =>
        Assert.Equal(Plans.Ferry.Replace(was, becomes, StringComparison.Ordinal),
            Edited(Plans.Ferry, editor => editor.SetScalar(value, path)));

    [Theory]
    [InlineData("5:\n", "5: -9\n")]
    [InlineData("5: # to be set\n", "5: -9 # to be set\n")]
    [InlineData("5: |\n      -18\n", "5: -9\n")]
    [InlineData("5: '-18' # quoted\n", "5: -9 # quoted\n")]
    [InlineData("? 5\n    : -18\n", "? 5\n    : -9\n")]
    public void Any_way_of_writing_a_value_can_be_set(string was, string becomes)
    {
        var head = Plans.Head + "levels:\n  north.voice:\n    1: off\n    ";
        Assert.Equal(head + becomes, Edited(head + was, editor => editor.SetMark("north.voice", At("5"), null, Number(-9), Number(-9))));
    }

    [Fact]
    public void Marks_of_several_sources_are_quoted_between_braces()
    {
        var lean = new Level.Lean(["north.horn", "north.engine"], Decibels.Of(-6));
        Assert.Equal(Plans.Head + "levels: { north.voice: { 1: off, 5: \"under north.horn, north.engine by 6\" } }\n",
            Edited(Plans.Head + "levels: { north.voice: { 1: off } }\n", editor =>
                editor.SetMark("north.voice", At("5"), null, lean, lean)));
    }

    [Fact]
    public void Carriage_returns_are_kept()
    {
        var text = Plans.Ferry.ReplaceLineEndings("\r\n");
        Assert.Equal(Plans.Ferry.Replace("    9..13:", "    7: -20\n    9..13:", StringComparison.Ordinal).ReplaceLineEndings("\r\n"),
            Edited(text, editor => editor.SetMark("north.engine", At("7"), null, Number(-20), Number(-20))));
    }

    [Fact]
    public void A_text_that_is_not_yaml_is_refused() =>
        Assert.Equal("MX101", Assert.Throws<InputException>(() => new PlanEditor("a: [", "t")).Faults.Single().Code);

    [Fact]
    public void Saving_writes_the_file_whole_and_leaves_nothing_beside_it()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var path = Path.Combine(folder.FullName, "t.mix.yaml");
            File.WriteAllText(path, "\uFEFF" + Plans.Ferry);
            var editor = PlanEditor.Open(path);
            editor.SetScalar("-20 LUFS", "reference");
            editor.Save();
            Assert.Equal(new Lufs(-20), PlanReader.Read(path).Reference);
            Assert.Equal("t.mix.yaml", Assert.Single(Directory.GetFiles(folder.FullName).Select(Path.GetFileName)));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    // Whatever a title or a part is called, it reads back as it was given, on a line or between braces.
    [Fact]
    public void Any_text_can_be_written_as_a_scalar() =>
        Gen.String[Gen.Char[" aZ9:#,-?[]{}&*!|>'\"%@`\\/\t\n\r\u0001\u0085\u00A0\u2028\uFEFFé\u266F"], 1, 12].Where(text =>
            text.Trim().Length > 0).Sample(text =>
        {
            var editor = new PlanEditor(Plans.Ferry, "t");
            editor.SetScalar(text, "title");
            editor.SetScalar(text, "sources", "north.horn", "part");
            var plan = Plans.Read(editor.Text);
            Assert.Equal((text.Trim(), text.Trim()), (plan.Title, plan.Sources[1].Part));
            Assert.Equal(Plans.Ferry.Split('\n').Length, editor.Text.Split('\n').Length);
        }, iter: 150);

    // Laws: after any edits the plan reads as intended, every line that no edit was about is still there byte for byte and
    // in order, and comments are never lost but with the mark that they stood beside.
    [Fact]
    public void Random_edits_leave_all_other_lines_alone()
    {
        var edit = Gen.Select(Gen.Int[0, 2], Gen.Int[1, 20], Gen.Int[-30, 0], Gen.Bool);
        var bar = Gen.Int[1, 20].HashSet[0, 8];
        Gen.Select(bar, edit.Array[1, 8], Gen.Bool, Gen.Bool).Sample((bars, edits, isCrLf, isFlow) =>
        {
            var sorted = bars.Order().ToList();
            var list = isFlow
                ? "  north.voice: { " + string.Join(", ", sorted.Select(b => $"{b}: -1")) + " }\n"
                : "  north.voice:\n" + string.Concat(sorted.Select((b, i) => $"    # note {i}\n    {b}:   -1   # was {b}\n"));
            var text = (Plans.Head + "levels: # all\n" + list + "  north.horn:\n    1: mf\n# the end\nreference: -20\n")
                .ReplaceLineEndings(isCrLf ? "\r\n" : "\n");
            var expected = sorted.ToDictionary(b => b, _ => -1.0);
            var touched = new HashSet<int>();
            var editor = new PlanEditor(text, "t", Scores.Twenty);
            foreach (var (kind, at, level, _) in edits)
            {
                touched.Add(at);
                if (kind == 0) Assert.Equal(expected.Remove(at), editor.RemoveMark("north.voice", At($"{at}"), null));
                else editor.SetMark("north.voice", At($"{at}"), null, Number(level), Number(level));
                if (kind != 0) expected[at] = level;
            }

            var marks = Plans.Read(editor.Text).Levels.Single(levels => levels.Source == "north.voice").Marks;
            Assert.Equal(expected.OrderBy(pair => pair.Key).Select(pair => (pair.Key.ToString(), pair.Value)),
                marks.Select(mark => (mark.From.ToString(), ((Level.At)mark.Start).OverReference.Value)));
            Assert.Equal(Untouched(text), Untouched(editor.Text));
            Assert.Equal(isCrLf, editor.Text.Contains('\r', StringComparison.Ordinal));

            string[] Untouched(string plan) =>
                [.. plan.Split('\n').Where(line =>
                    !line.Contains("north.voice:", StringComparison.Ordinal)
                    && !touched.Any(at => line.StartsWith($"    {at}:", StringComparison.Ordinal))
                    || line.Contains("note", StringComparison.Ordinal))];
        }, iter: 100);
    }

    private static string Edited(string text, Action<PlanEditor> edit)
    {
        var editor = new PlanEditor(text, "t.mix.yaml", Scores.Twenty);
        edit(editor);
        return editor.Text;
    }

    private static Position At(string text) => Position.Parse(text);

    private static Level.At Number(double level) => new(Decibels.Of(level));

    private static Level.At Dynamic(string name) => new(DynamicsTable.Ours[name]!.Value, name);
}
