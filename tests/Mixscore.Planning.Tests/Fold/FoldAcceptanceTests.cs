using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Fold;

public sealed class FoldAcceptanceTests
{
    private static readonly FoldNight Night = new() { Date = new DateTimeOffset(2026, 11, 25, 20, 0, 0, TimeSpan.Zero), Hall = "Quay Hall", Played = [], Sources = [] };

    // Four hundred marks of two sources, with comments of every kind, blank lines and odd layout; a third of them is changed.
    [Fact]
    public void A_plan_of_400_marks_keeps_every_line_that_no_proposal_is_about()
    {
        var marks = Enumerable.Range(0, 400).Select(i => $"    {i / 2 + 1}{(i % 2 == 0 ? "" : ":3")}: {-i % 20 - 1}{(i % 3) switch { 0 => "", 1 => $"   # by ear, take {i}", _ => "# close" }}").ToArray();
        var lines = Plans.Head.Split('\n').SkipLast(1).Concat(["levels:   # all of them", "  north.voice:", .. marks.Take(200).SelectMany((mark, i) => i % 25 == 0 ? ["", $"    # letter {i / 25}", mark] : new[] { mark }), "  north.horn:", .. marks.Skip(200), "", "# the end"]).ToArray();
        var editor = new PlanEditor(string.Join('\n', lines) + "\n", "t.mix.yaml");
        var touched = new HashSet<string>();
        for (var i = 0; i < 400; i += 3)
        {
            var key = marks[i].Trim().Split(": ")[0];
            touched.Add(marks[i]);
            FoldAcceptance.Write(Proposal(i < 200 ? "north.voice" : "north.horn", Position.Parse(key), -25), editor);
        }
        var after = editor.Text.Split('\n').SkipLast(1).ToArray();
        Assert.Equal(lines.Length, after.Length);
        for (var line = 0; line < lines.Length; line++)
        {
            if (!touched.Contains(lines[line])) Assert.Equal(lines[line], after[line]);
            else
            {
                Assert.StartsWith(lines[line].Split(": ")[0] + ": -25", after[line], StringComparison.Ordinal);
                Assert.EndsWith("by hand 2026-11-25, Quay Hall", after[line], StringComparison.Ordinal);
                if (lines[line].Contains('#', StringComparison.Ordinal)) Assert.Contains(lines[line][lines[line].IndexOf('#', StringComparison.Ordinal)..], after[line], StringComparison.Ordinal);
            }
        }
    }

    // A held mark becomes a move, and is one again: its line is another, its comment the same.
    [Fact]
    public void A_comment_stays_where_a_mark_becomes_a_range_and_a_range_a_mark()
    {
        var editor = new PlanEditor(Plans.WithMarks("5: -9   # by ear, not louder", "13: -6"), "t.mix.yaml");
        var (held, move) = (Mark("5", null, -9, -9), Mark("5", "9", -9, -3));
        var proposal = Proposal("north.voice", held.From, -9);
        FoldAcceptance.Write(proposal with { Edits = [new MarkEdit(held, IsRemoved: true), new MarkEdit(move, IsRemoved: false)] }, editor);
        Assert.Contains("    5..9: -9 > -3  # by ear, not louder; by hand 2026-11-25, Quay Hall\n", editor.Text, StringComparison.Ordinal);
        FoldAcceptance.Write(proposal with { Edits = [new MarkEdit(move, IsRemoved: true), new MarkEdit(held, IsRemoved: false)], Nights = [Night with { Date = Night.Date!.Value.AddDays(1) }] }, editor);
        Assert.Contains("    5: -9  # by ear, not louder; by hand 2026-11-26, Quay Hall\n", editor.Text, StringComparison.Ordinal);
    }

    private static Mark Mark(string from, string? to, double start, double end) =>
        new(Position.Parse(from), to is null ? null : Position.Parse(to), new Level.At(Decibels.Of(start)), new Level.At(Decibels.Of(end)), default);

    [Fact]
    public void Nights_of_one_hall_are_noted_together() =>
        Assert.Equal("by hand 2026-11-25, 2026-11-26, Quay Hall", FoldAcceptance.NoteOf([Night, Night with { Date = Night.Date!.Value.AddDays(1) }]));

    [Theory]
    [InlineData("-9", "-9", null)]
    [InlineData("mf within 1 LU", "mf within 1 LU", null)]
    [InlineData("loud", "-25", "is not a level")]
    [InlineData("-9 > -3", "-25", "needs a range")]
    public void Another_level_may_be_accepted(string text, string becomes, string? problem)
    {
        var said = FoldEdit.Read(Proposal("north.voice", Position.Parse("5"), -25), text, DynamicsTable.Ours, out var edited);
        Assert.Equal(becomes, edited.Becomes);
        if (problem is null) Assert.Null(said);
        else Assert.Contains(problem, said, StringComparison.Ordinal);
    }

    private static FoldProposal Proposal(string source, Position from, double level) => new()
    {
        Kind = FoldKind.Mark,
        Source = source,
        From = from,
        To = Position.End,
        Was = "",
        Becomes = level.ToString(CultureInfo.InvariantCulture),
        Edits = [new MarkEdit(new Mark(from, null, new Level.At(Decibels.Of(level)), new Level.At(Decibels.Of(level)), default), IsRemoved: false)],
        Nights = [Night],
        Because = "by hand",
    };
}
