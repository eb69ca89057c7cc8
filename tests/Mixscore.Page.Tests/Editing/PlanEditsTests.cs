using CsCheck;
using Mixscore.Planning;

namespace Mixscore.Page.Tests;

/// <summary>Edits of a plan's text as a page makes them, on a disk that can be full, read-only, gone, or written to by somebody else.</summary>
public sealed class PlanEditsTests : IDisposable
{
    private readonly SmallPiece _piece = new();
    private readonly Disk _disk;
    private readonly PlanEdits _edits;

    public PlanEditsTests()
    {
        var text = """
            title: Small
            score: small.musicxml
            sites:
              near: { link: { delay: 0 ms, on-drop: fade 300 ms } }
            sources:
              near.voice:  { role: voice,   stem: stems/voice.wav,  strip: 1, within: 2 LU, part: P1 }   # the lead
              near.engine: { role: ambient, stem: stems/engine.wav, strip: 2, within: 3 LU, part: P2 }
            levels:
              near.voice:
                1: -6          # she enters softly
                2..A: -6 > -3  # and grows
                5: off

              near.engine: { 1: -18 }
            # the end

            """.ReplaceLineEndings("\n");
        _disk = new Disk { Text = text };
        var score = _piece.Project.OnScore.Score;
        _edits = new PlanEdits(_disk, text, _piece.PathOf("small.mix.yaml"), _piece.Project.Timeline, found => PlanOnScore.Resolve(PlanReader.Parse(found, _piece.PathOf("small.mix.yaml")), score), TimeProvider.System);
    }

    public void Dispose() => _piece.Dispose();

    // To the byte: only the words that an edit is about differ.
    [Fact]
    public void A_level_is_set_in_its_line_and_all_else_stays()
    {
        var before = _disk.Text!;
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "2..A", "2..A", "-7 > mf", "-6 > -3")));
        Assert.Equal(before.Replace("-6 > -3", "-7 > mf", StringComparison.Ordinal), _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Within("near.voice", 1.5)));
        Assert.Equal(before.Replace("-6 > -3", "-7 > mf", StringComparison.Ordinal).Replace("within: 2 LU", "within: 1.5 LU", StringComparison.Ordinal), _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Undo()));
        Assert.Null(_edits.Do(new EditOrder.Undo()));
        Assert.Equal(before, _disk.Text);
        Assert.NotNull(_edits.Do(new EditOrder.Undo()));
        Assert.Null(_edits.Do(new EditOrder.Redo()));
        Assert.Contains("-7 > mf  # and grows", _disk.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mark_is_added_where_it_belongs_moved_with_its_comment_and_taken_out()
    {
        var before = _disk.Text!;
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", null, "4:3", "under near.engine by 2", null)));
        Assert.Equal(before.Replace("    5: off\n", "    4:3: under near.engine by 2\n    5: off\n", StringComparison.Ordinal), _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "2..A", "A..4", "-6 > -3", "-6 > -3")));
        Assert.Equal(before.Replace("    2..A: -6 > -3  # and grows\n    5: off\n", "    A..4: -6 > -3  # and grows\n    4:3: under near.engine by 2\n    5: off\n", StringComparison.Ordinal), _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Unmark("near.voice", "4:3", "under near.engine by 2")));
        Assert.Null(_edits.Do(new EditOrder.Mark("near.engine", null, "3", "-12", null)));
        Assert.Contains("near.engine: { 1: -18, 3: -12 }", _disk.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_vertex_is_pinned_and_let_go_and_nothing_of_it_is_left()
    {
        var before = _disk.Text!;
        Assert.Null(_edits.Do(new EditOrder.Pin("near.voice", "3:2", -4.25)));
        Assert.Equal(before + "pins:\n  near.voice:\n    3:2: -4.25 dB\n", _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Pin("near.voice", "3:2", null)));
        Assert.Equal(before, _disk.Text);
    }

    public static TheoryData<string, string> NoMarks => new()
    {
        { "3", "loud" }, { "99", "-6" }, { "1:3..2:2", "-6" }, { "2:3", "under near.voice by 3" }, { "1", "-3" }, { "3", "-6 > -3" },
    };

    // What the plan's own reader would refuse is refused, with its words, and the file is as it was.
    [Theory, MemberData(nameof(NoMarks))]
    public void What_is_no_mark_is_refused(string key, string level)
    {
        var before = _disk.Text;
        Assert.NotEmpty(_edits.Do(new EditOrder.Mark("near.voice", null, key, level, null))!);
        Assert.Equal(before, _disk.Text);
        Assert.False(_edits.Now.CanUndo);
    }

    [Theory, InlineData(true), InlineData(false)]
    public void A_write_that_fails_keeps_the_edit_says_so_and_can_be_settled(bool isGone)
    {
        var before = _disk.Text!;
        if (isGone) _disk.Text = null;
        else _disk.Refuses = "No space left on device";
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "1", "1", "-9", "-6")));
        Assert.Contains("1: -9 ", _edits.Text, StringComparison.Ordinal);
        Assert.False(_edits.Now.IsSaved);
        Assert.Contains(isGone ? "gone" : "No space left", _edits.Now.Trouble, StringComparison.Ordinal);
        // Another edit, still in trouble: both are kept.
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "5", "5", "-20", "off")));
        Assert.Equal(isGone ? null : before, _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Settle(SettleKind.Beside)));
        Assert.Equal(_edits.Text, _disk.Beside);
        Assert.Contains("kept", _edits.Now.Notice, StringComparison.OrdinalIgnoreCase);
        _disk.Refuses = null;
        Assert.Null(_edits.Do(new EditOrder.Settle(SettleKind.Again)));
        Assert.Equal(_edits.Text, _disk.Text);
        Assert.True(_edits.Now.IsSaved);
        Assert.Null(_edits.Now.Trouble);
    }

    [Fact]
    public void What_an_editor_wrote_is_taken_up_and_can_be_taken_back()
    {
        var (before, told) = (_disk.Text!, 0);
        _edits.Changed += _ => told++;
        _disk.Text = before.Replace("5: off", "5: -30", StringComparison.Ordinal);
        Assert.True(_edits.Look());
        Assert.Equal((_disk.Text, 1), (_edits.Text, told));
        // An edit that the page made of what it saw before is a clash and is not done.
        Assert.Contains("-30 by now", _edits.Do(new EditOrder.Mark("near.voice", "5", "5", "-10", "off")), StringComparison.Ordinal);
        Assert.Null(_edits.Do(new EditOrder.Undo()));
        Assert.Equal(before, _disk.Text);
    }

    // Half a line typed by somebody else is no plan: what the page has stands, and neither text is lost.
    [Fact]
    public void A_plan_that_is_broken_on_disk_is_waited_for()
    {
        var good = _disk.Text!;
        _disk.Text = good.Replace("5: off", "5: of", StringComparison.Ordinal);
        Assert.True(_edits.Look());
        Assert.Equal(good, _edits.Text);
        Assert.Contains("cannot be used", _edits.Now.Notice, StringComparison.Ordinal);
    }

    [Theory, InlineData(true), InlineData(false)]
    public void A_clash_is_shown_and_neither_side_is_lost(bool isMine)
    {
        _disk.Refuses = "Read-only file system";
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "1", "1", "-9", "-6")));
        var mine = _edits.Text;
        _disk.Refuses = null;
        var theirs = _disk.Text = _disk.Text!.Replace("5: off", "5: -30", StringComparison.Ordinal);
        Assert.True(_edits.Look());
        Assert.True(_edits.Now.IsClash);
        Assert.Equal((mine, theirs), (_edits.Text, _disk.Text));
        // Nothing is written while nobody has chosen.
        Assert.Null(_edits.Do(new EditOrder.Mark("near.voice", "1", "1", "-10", "-9")));
        Assert.Equal(theirs, _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Settle(isMine ? SettleKind.Mine : SettleKind.Theirs)));
        Assert.False(_edits.Now.IsClash);
        Assert.Equal(isMine ? _edits.Text : theirs, _disk.Text);
        Assert.Null(_edits.Do(new EditOrder.Undo()));
        Assert.Contains(isMine ? "5: -30" : "1: -10", _edits.Text, StringComparison.Ordinal);
    }

    // The real disk: a file that may only be read, and one that was taken away.
    [Fact]
    public void On_a_real_disk_a_file_that_may_only_be_read_is_not_written_over()
    {
        var path = _piece.PathOf("small.mix.yaml");
        var disk = new PlanOnDisk(path);
        File.SetAttributes(path, FileAttributes.ReadOnly);
        Assert.Throws<UnauthorizedAccessException>(() => disk.Write("title: no"));
        File.SetAttributes(path, FileAttributes.Normal);
        disk.Write("title: yes");
        Assert.Equal("title: yes", disk.Read());
        Assert.Equal("title: kept", File.ReadAllText(disk.WriteBeside("title: kept", DateTimeOffset.UnixEpoch)));
        File.Delete(path);
        Assert.Null(disk.Read());
        Assert.Single(Directory.GetFiles(_piece.Folder, "*.kept-*"));
        Assert.Empty(Directory.GetFiles(_piece.Folder, "*.tmp"));
    }

    // Whatever is edited, undoing all of it gives the first text back to the byte, and redoing all of it the last.
    [Fact]
    public void Undo_and_redo_go_through_every_text() => Gen.Int[0, 5].Select(Gen.Int[1, 5], Gen.Int[-30, 0]).Array[1, 12].Sample(steps =>
    {
        var disk = new Disk { Text = _edits.Text };
        var (first, score) = (_edits.Text, _piece.Project.OnScore.Score);
        var edits = new PlanEdits(disk, first, _piece.PathOf("small.mix.yaml"), _piece.Project.Timeline, found => PlanOnScore.Resolve(PlanReader.Parse(found, _piece.PathOf("small.mix.yaml")), score), TimeProvider.System);
        var done = 0;
        foreach (var (kind, bar, level) in steps)
        {
            var before = edits.Text;
            EditOrder order = kind switch
            {
                0 => new EditOrder.Mark("near.engine", null, $"{bar}:2", $"{level}", null),
                1 => new EditOrder.Mark("near.engine", "1", "1", $"{level}", null),
                2 => new EditOrder.Unmark("near.engine", $"{bar}:2", null),
                3 => new EditOrder.Within("near.voice", bar),
                4 => new EditOrder.Pin("near.voice", $"{bar}", level),
                _ => new EditOrder.Mark("near.voice", "5", $"{bar}:4", "off", null),
            };
            edits.Do(order);
            if (edits.Text != before) done++;
            Assert.Equal(edits.Text, disk.Text);
        }
        var last = edits.Text;
        for (var i = 0; i < done; i++) Assert.Null(edits.Do(new EditOrder.Undo()));
        Assert.Equal(first, disk.Text);
        for (var i = 0; i < done; i++) Assert.Null(edits.Do(new EditOrder.Redo()));
        Assert.Equal(last, disk.Text);
    }, iter: 100);

    private sealed class Disk : IPlanFile
    {
        internal string? Text { get; set; }

        internal string? Refuses { get; set; }

        internal string? Beside { get; private set; }

        public string? Read() => Text;

        public void Write(string text)
        {
            if (Refuses is { } why) throw new IOException(why);
            Text = text;
        }

        public string WriteBeside(string text, DateTimeOffset now)
        {
            Beside = text;
            return "small.mix.yaml.kept";
        }
    }
}
