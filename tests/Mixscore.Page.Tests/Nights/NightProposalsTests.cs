using System.Text.Json;

namespace Mixscore.Page.Tests;

/// <summary>What a night suggests on the page: looked at, taken, undone; of the small piece, in which a bar lasts two seconds.</summary>
public sealed class NightProposalsTests : IDisposable
{
    private const string Log = "2026-11-25T20-00-00.log.jsonl";
    private readonly SmallPiece _piece = new();
    private readonly EditedProject _edited;

    public NightProposalsTests()
    {
        Directory.CreateDirectory(_piece.PathOf("log"));
        // The voice is taken down for four bars, well after its beginning, and handed back.
        File.WriteAllLines(Path.Combine(_piece.PathOf("log"), Log),
        [
            """{"t":0,"at":null,"kind":"begin","date":"2026-11-25T20:00:00+00:00","plan":"small.mix.yaml","planKey":"","clock":"click","desks":[],"boot":"","uptime":1,"rehearsal":false,"hall":"Quay Hall","rides":[]}""",
            """{"t":0.1,"at":null,"kind":"arm"}""",
            """{"t":1,"at":"1","kind":"start","seconds":0,"value":0}""",
            """{"t":5,"at":"3","kind":"take","seconds":4,"source":"near.voice","db":-16}""",
            """{"t":13,"at":"5","kind":"back","seconds":12,"source":"near.voice","db":-16}""",
            """{"t":13.5,"at":"5:2","kind":"planned","seconds":12.5,"source":"near.voice","db":0}""",
            """{"t":16.5,"at":"6:4","kind":"end","seconds":15.5}""",
        ]);
        // A mark on a line of its own can carry a comment.
        var plan = File.ReadAllText(_piece.PathOf("small.mix.yaml"));
        File.WriteAllText(_piece.PathOf("small.mix.yaml"), plan.Replace("  near.voice: { 1: -6 }", "  near.voice:\n    1: -6", StringComparison.Ordinal));
        _edited = new EditedProject(_piece.Project, (_, fitted) => [.. fitted.Select(source => source.Ride)], TimeProvider.System);
    }

    public void Dispose()
    {
        _edited.Dispose();
        _piece.Dispose();
    }

    [Fact]
    public void It_is_shown_with_a_line_and_taken_and_undone()
    {
        var before = _edited.Text;
        var shown = JsonDocument.Parse(_edited.Fold(Log)!.Write()).RootElement;
        Assert.True(shown.GetProperty("proposals").GetArrayLength() > 0, shown.ToString());
        var first = shown.GetProperty("proposals")[0];
        Assert.Equal("near.voice", first.GetProperty("source").GetString());
        Assert.Equal(4, first.GetProperty("line").GetArrayLength());
        Assert.True(first.GetProperty("line")[1].GetDouble() < -6, "the hand was lower than the plan's -6");

        Assert.Null(_edited.Do(new EditOrder.Learn(Log, first.GetProperty("key").GetString())));
        Assert.NotEqual(before, _edited.Text);
        Assert.Contains("    3: -16  # by hand 2026-11-25, Quay Hall\n", _edited.Text, StringComparison.Ordinal);
        Assert.Equal(_edited.Text, File.ReadAllText(_piece.PathOf("small.mix.yaml")));
        Assert.Null(_edited.Do(new EditOrder.Undo()));
        Assert.Equal(before, _edited.Text);
    }

    [Fact]
    public void What_was_found_for_another_text_is_not_written_into_this_one()
    {
        _edited.Fold(Log);
        Assert.Null(_edited.Do(new EditOrder.Within("near.engine", 1.5)));
        var text = _edited.Text;
        Assert.Contains("has changed since", _edited.Do(new EditOrder.Learn(Log, null)), StringComparison.Ordinal);
        Assert.Equal(text, _edited.Text);
    }

    [Fact]
    public void What_is_not_suggested_is_refused()
    {
        Assert.Null(_edited.Fold("../../etc/passwd"));
        Assert.Null(_edited.Fold("2026-01-01T20-00-00.log.jsonl"));
        Assert.NotNull(_edited.Do(new EditOrder.Learn(Log, null)));
        _edited.Fold(Log);
        Assert.Contains("does not suggest", _edited.Do(new EditOrder.Learn(Log, "near.voice 1..end -99")), StringComparison.Ordinal);
    }
}
