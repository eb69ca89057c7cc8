using System.Text.Json;
using Mixscore.Live;

namespace Mixscore.Page.Tests;

/// <summary>A log laid over the score of the small piece: 120 beats a minute, so a second is two quarters.</summary>
public sealed class NightOnScoreTests : IDisposable
{
    private readonly SmallPiece _piece = new();

    public void Dispose() => _piece.Dispose();

    //  s  0    1     2     3     4     5     6
    //          take        move  back        planned
    [Fact]
    public void A_hand_is_drawn_from_taking_to_the_plan_and_rests_where_it_was_left()
    {
        var laid = Laid(
            """{"t":1,"kind":"take","seconds":1,"source":"near.voice","db":-6}""",
            """{"t":3,"kind":"hand","seconds":3,"source":"near.voice","db":-12}""",
            """{"t":4,"kind":"back","seconds":4,"source":"near.voice","db":-12}""",
            """{"t":6,"kind":"planned","seconds":6,"source":"near.voice","db":0}""");
        Assert.Equal([(2, -6), (6, -6), (6, -12), (8, -12), (12, 0)], Assert.Single(laid.Sources[0].Hands).Points.Select(point => (point.At, point.Value!.Value)));
        Assert.Empty(laid.Sources[1].Hands);
    }

    [Fact]
    public void A_jump_back_begins_a_new_line_and_the_end_closes_it()
    {
        var laid = Laid(
            """{"t":1,"kind":"take","seconds":5,"source":"near.engine","db":-6}""",
            """{"t":2,"kind":"position","seconds":6}""",
            """{"t":3,"kind":"position","seconds":2}""",
            """{"t":4,"kind":"end","seconds":3}""");
        Assert.Equal(2, laid.Sources[1].Hands.Count);
        Assert.Equal([(10, -6), (12, -6)], laid.Sources[1].Hands[0].Points.Select(point => (point.At, point.Value!.Value)));
        Assert.Equal([(4, -6), (6, -6)], laid.Sources[1].Hands[1].Points.Select(point => (point.At, point.Value!.Value)));
    }

    [Fact]
    public void Drops_and_notes_lie_where_they_were()
    {
        var laid = Laid(
            """{"t":1,"kind":"drop","seconds":1,"source":"near.voice","text":"silent"}""",
            """{"t":2,"kind":"mark","seconds":2,"text":"too loud"}""",
            """{"t":3,"kind":"up","seconds":3,"source":"near.voice","db":0}""",
            """{"t":4,"kind":"drop","seconds":4,"source":"near.engine","text":"noise"}""",
            """{"t":5,"kind":"end","seconds":5}""");
        Assert.Equal([(2.0, 6.0)], laid.Sources[0].Drops);
        Assert.Equal([(8.0, 10.0)], laid.Sources[1].Drops);
        Assert.Equal([(4.0, "too loud")], laid.Notes);
    }

    [Theory, InlineData("../small.mix.yaml"), InlineData("/etc/passwd"), InlineData("..\\x.log.jsonl"), InlineData(""), InlineData("2026-11-28T20-00-00.log.jsonl/../../small.mix.yaml")]
    public void Only_a_log_of_the_folder_is_read(string name)
    {
        Write("2026-11-28T20-00-00.log.jsonl", """{"t":1,"kind":"end","seconds":5}""");
        var files = new NightFiles(_piece.PathOf("log"));
        Assert.Equal(["2026-11-28T20-00-00.log.jsonl"], JsonSerializer.Deserialize<string[]>(files.List())!);
        Assert.NotNull(files.Read("2026-11-28T20-00-00.log.jsonl", _piece.Project));
        Assert.Null(files.Read(name, _piece.Project));
    }

    private NightOnScore Laid(params string[] lines) => NightOnScore.Of(Night.Read(Write("night.log.jsonl", lines)), _piece.Project.Timeline, ["near.voice", "near.engine"]);

    private string Write(string name, params string[] lines)
    {
        Directory.CreateDirectory(_piece.PathOf("log"));
        File.WriteAllLines(_piece.PathOf($"log/{name}"), lines);
        return _piece.PathOf($"log/{name}");
    }
}
