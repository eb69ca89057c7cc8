using System.Text.Json;

namespace Mixscore.Score.Tests;

// Figures: expected.json beside the scores; each was found by two or three independent readers, or by eye where they differ.
public sealed class SharedScoreTests
{
    private static readonly Dictionary<string, (WrittenScore Score, BuiltTimeline Built)> Read = [];

    public static TheoryData<string, string> Figures()
    {
        var data = new TheoryData<string, string>();
        foreach (var name in SharedScores.Names)
            foreach (var figure in name.Length == 0 ? ["none"] : SharedScores.Expected(name).EnumerateObject().Select(figure => figure.Name))
                if (Checks.ContainsKey(figure) || figure == "none") data.Add(name, figure);
        return data;
    }

    private static readonly Dictionary<string, Action<JsonElement, WrittenScore, BuiltTimeline>> Checks = new()
    {
        ["bars_written"] = (expected, score, _) => Assert.Equal(expected.GetInt32(), score.Bars.Count),
        ["bars_played"] = (expected, _, built) => Assert.Equal(expected.GetInt32(), built.Timeline.Bars.Count),
        ["bar_numbers_differ"] = (expected, score, _) =>
        {
            foreach (var bar in expected.EnumerateArray())
                Assert.Equal(bar.GetProperty("number").GetString(), score.Bars[bar.GetProperty("bar").GetInt32() - 1].Label);
        },
        ["played"] = (expected, _, built) => Assert.Equal(Runs(expected), Runs(built)),
        ["time_signatures"] = (expected, score, _) => Assert.Equal(Meters(expected), Meters(score)),
        ["quarters_written"] = (expected, score, _) => Assert.Equal(expected.GetString(), score.Bars.Aggregate(Quarters.Zero, (sum, bar) => sum + bar.Length).ToString()),
        ["quarters_played"] = (expected, _, built) => Assert.Equal(expected.GetString(), built.Timeline.End.ToString()),
        ["quarters"] = (expected, _, built) => Assert.Equal(expected.GetDouble(), built.Timeline.End.ToDouble(), 1e-9),
        ["seconds"] = (expected, _, built) => Assert.Equal(expected.GetDouble(), built.Timeline.Duration.Value, 0.001),
        ["seconds_mido"] = (expected, _, built) => Assert.Equal(expected.GetDouble(), built.Timeline.Duration.Value, 0.001),
        ["tempo"] = CheckTempo,
        ["rehearsal"] = (expected, score, _) => Assert.Equal(
            expected.EnumerateArray().Select(letter => $"{letter.GetProperty("bar").GetInt32()} {letter.GetProperty("text").GetString()}"),
            score.Letters.Select(letter => $"{letter.Bar} {letter.Name}")),
        ["parts"] = CheckParts,
        ["short_bars"] = (expected, score, _) => Assert.Equal(
            expected.EnumerateArray().Select(bar => $"{bar.GetProperty("bar").GetInt32()}: {bar.GetProperty("quarters").GetString()}"),
            score.Bars.Where(bar => bar.Length < bar.Meter.Length).Select(bar => $"{bar.Number}: {bar.Length}")),
        ["straight_needs_warning"] = (_, _, built) => Assert.Contains(built.Warnings, warning => warning.Code == "MX069"),
        ["main_needs_warning"] = (_, score, _) => Assert.Contains(score.Warnings, warning => warning.Code == "MX045"),
    };

    [Theory, MemberData(nameof(Figures))]
    public void Every_shared_score_reads_as_the_table_says(string name, string figure)
    {
        var expected = SharedScores.Expected(name);
        var (score, built) = ReadOnce(name);
        var table = WithAccepted(expected, figure, built);
        Checks[figure](table, score, built);
    }

    /// <summary>Where the table accepts another reading and that is ours, its figures hold.</summary>
    private static JsonElement WithAccepted(JsonElement expected, string figure, BuiltTimeline built)
    {
        if (figure == "seconds" && expected.TryGetProperty("also_accepted", out var accepted))
            foreach (var other in accepted.EnumerateArray())
                if (other.TryGetProperty("seconds", out var seconds) && Math.Abs(seconds.GetDouble() - built.Timeline.Duration.Value) < 0.001) return seconds;
        return expected.GetProperty(figure);
    }

    private static (WrittenScore Score, BuiltTimeline Built) ReadOnce(string name)
    {
        lock (Read)
        {
            if (Read.TryGetValue(name, out var known)) return known;
            var score = ScoreFile.Read(SharedScores.PathOf(name));
            return Read[name] = (score, TimelineBuilder.Build(score));
        }
    }

    private static void CheckTempo(JsonElement expected, WrittenScore score, BuiltTimeline built)
    {
        if (expected.EnumerateArray().FirstOrDefault() is { ValueKind: JsonValueKind.Array })
        {
            // A MIDI file's table has only the changes, by quarters from the start, and of a long list the first forty.
            var changes = new List<(double, double)>();
            foreach (var piece in built.Timeline.Tempo.Pieces)
                if (changes.Count == 0 || Math.Abs(changes[^1].Item2 - piece.StartTempo) > 0.01) changes.Add((piece.From.ToDouble(), piece.StartTempo));
            var wanted = expected.EnumerateArray().ToList();
            if (wanted.Count < 40) Assert.Equal(wanted.Count, changes.Count);
            foreach (var (change, mark) in changes.Zip(wanted))
            {
                Assert.Equal(mark[0].GetDouble(), change.Item1, 0.01);
                Assert.Equal(mark[1].GetDouble(), change.Item2, 0.01);
            }
            return;
        }
        var marks = score.Tempo.Select(mark => $"{mark.At.Bar} {mark.At.Offset} {mark.QuartersPerMinute:0.###}").ToList();
        var table = expected.EnumerateArray().Select(mark => $"{mark.GetProperty("bar").GetInt32()} {mark.GetProperty("beat_offset_quarters").GetString()} {mark.GetProperty("quarters_per_minute").GetDouble():0.###}").ToList();
        // Units that equal units are taken here and left out of the table.
        if (score.Warnings.Any(warning => warning.Code == "MX045")) Assert.Subset(marks.ToHashSet(), table.ToHashSet());
        else Assert.Equal(table, marks);
    }

    private static void CheckParts(JsonElement expected, WrittenScore score, BuiltTimeline built)
    {
        Assert.Equal(expected.EnumerateArray().Select(part => part.GetProperty("id").GetString()), score.Parts.Select(part => part.Id));
        foreach (var (wanted, part) in expected.EnumerateArray().Zip(score.Parts))
        {
            Assert.Equal(wanted.GetProperty("name").GetString(), part.Name);
            Assert.Equal(wanted.GetProperty("dynamics").GetInt32(), part.Dynamics.Count);
            Assert.Equal(wanted.GetProperty("crescendo").GetInt32(), part.Hairpins.Count(hairpin => hairpin.Grows));
            Assert.Equal(wanted.GetProperty("diminuendo").GetInt32(), part.Hairpins.Count(hairpin => !hairpin.Grows));
            foreach (var mark in wanted.GetProperty("dynamics_by_mark").EnumerateObject())
                if (mark.Name != "other-dynamics") Assert.Equal(mark.Value.GetInt32(), part.Dynamics.Count(dynamic => dynamic.Text == mark.Name));
        }
        Assert.Equal(score.Parts.Count, Performance.Of(score, built.Timeline).Parts.Count);
    }

    private static List<string> Runs(JsonElement expected) => [.. expected.EnumerateArray().Select(run => $"{run[0].GetInt32()}-{run[1].GetInt32()}")];

    private static List<string> Runs(BuiltTimeline built) => [.. built.Order.Runs().Select(run => $"{built.Order.Steps[run.First].Bar}-{built.Order.Steps[run.Last].Bar}")];

    private static List<string> Meters(JsonElement expected)
    {
        var meters = new List<string>();
        foreach (var one in expected.EnumerateArray())
        {
            var text = one.ValueKind == JsonValueKind.Array ? $"{one[0].GetDouble()} {one[1].GetString()}" : $"{one.GetProperty("bar").GetInt32()} {one.GetProperty("time").GetString()}";
            if (!meters.Contains(text)) meters.Add(text);
        }
        return [.. meters.Select(text => text.Replace("0 ", "1 ", StringComparison.Ordinal) is var changed && text.StartsWith("0 ", StringComparison.Ordinal) ? changed : text)];
    }

    private static List<string> Meters(WrittenScore score) =>
    [
        .. score.Bars.Where((bar, i) => i == 0 || !bar.Meter.Equals(score.Bars[i - 1].Meter)).Select(bar => $"{bar.Number} {bar.Meter}"),
    ];
}
