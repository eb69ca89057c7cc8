using System.Text.Json;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// Orders as the page sends them: JSON such as {<c>do</c>: "take", <c>n</c>: 17, <c>source</c>: "north.voice", <c>db</c>: -6.2}.
/// Everything that comes from a browser is checked here.
/// </summary>
internal sealed class OrderReader(IReadOnlyList<string> sources, IReadOnlyList<string> sites, Timeline timeline)
{
    /// <summary>No order is longer.</summary>
    internal const int MostBytes = 2048;

    private const int LongestNote = 400;

    /// <summary>dB, either way; the fader's own range is narrower.</summary>
    private const double MostGain = 200;

    /// <summary>Reads an order.</summary>
    /// <param name="text">One message.</param>
    /// <param name="order">An <see cref="Order"/>, an <see cref="EditOrder"/> or a <see cref="HandOrder"/>.</param>
    /// <param name="problem">What was wrong.</param>
    /// <returns>False for what is none.</returns>
    internal bool TryRead(ReadOnlySpan<byte> text, out object? order, out string problem)
    {
        (order, problem) = (null, "");
        try
        {
            var reader = new Utf8JsonReader(text, new JsonReaderOptions { MaxDepth = 2 });
            using var json = JsonDocument.ParseValue(ref reader);
            if (reader.BytesConsumed != text.Length) throw new FormatException("one order at a time");
            order = Read(json.RootElement);
            return true;
        }
        catch (Exception e) when (e is JsonException or FormatException or InvalidOperationException or KeyNotFoundException)
        {
            problem = e is FormatException ? e.Message : "this is no order";
            return false;
        }
    }

    private object Read(JsonElement json) => json.GetProperty("do").GetString() switch
    {
        "join" => new HandOrder.Join(Word(json)),
        "ask" => new HandOrder.Ask(json.GetProperty("on").GetBoolean()),
        "give" => new HandOrder.Answer(json.GetProperty("to").GetString() ?? "", Gives: true),
        "keep" => new HandOrder.Answer(json.GetProperty("to").GetString() ?? "", Gives: false),
        "mark" => new EditOrder.Mark(SourceName(json), Words(json, "key", isNeeded: false), Range(json), Words(json, "level")!, Words(json, "was", isNeeded: false)),
        "unmark" => new EditOrder.Unmark(SourceName(json), Words(json, "key")!, Words(json, "was", isNeeded: false)),
        "within" => new EditOrder.Within(SourceName(json), json.GetProperty("by").GetDouble() is var by and > 0 and <= MostGain ? by : throw new FormatException("within is above 0")),
        "pin" => new EditOrder.Pin(SourceName(json), Beat(json, "at"), Gain(json)),
        "unpin" => new EditOrder.Pin(SourceName(json), Words(json, "key")!, null),
        "learn" => new EditOrder.Learn(Words(json, "log")!, Words(json, "key", isNeeded: false)),
        "undo" => new EditOrder.Undo(),
        "redo" => new EditOrder.Redo(),
        "settle" => new EditOrder.Settle(Enum.TryParse<SettleKind>(json.GetProperty("how").GetString(), ignoreCase: true, out var how) && Enum.IsDefined(how) ? how : throw new FormatException("there is no such way")),
        _ => ReadOrder(json),
    };

    private string SourceName(JsonElement json) => sources[Source(json)];

    /// <summary>Words of the plan, on one line.</summary>
    private static string? Words(JsonElement json, string key, bool isNeeded = true)
    {
        var found = json.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;
        if (found is null) return isNeeded ? throw new FormatException($"{key} is missing") : null;
        return found.Trim() is { Length: > 0 and <= LongestNote } words && !words.Any(char.IsControl) ? words : throw new FormatException($"{key} is empty, too long or no line");
    }

    /// <summary>A position or a range as it shall be written: places that are given in quarters by the nearest beat.</summary>
    private string Range(JsonElement json) => json.TryGetProperty("until", out var until) && until.ValueKind != JsonValueKind.Null ? $"{Beat(json, "at")}..{Beat(json, "until")}" : Beat(json, "at");

    private string Beat(JsonElement json, string key)
    {
        if (json.GetProperty(key).ValueKind == JsonValueKind.String) return Words(json, key)!;
        var quarters = json.GetProperty(key).GetDouble();
        if (!double.IsFinite(quarters)) throw new FormatException("there is no such place");
        return $"{timeline.PositionAt(timeline.BeatGrid.MinBy(beat => Math.Abs(beat.ToDouble() - quarters)))}";
    }

    private Order ReadOrder(JsonElement json)
    {
        var number = json.GetProperty("n").GetUInt32();
        return json.GetProperty("do").GetString() switch
        {
            "play" => new Order.Play(number),
            "pause" => new Order.Pause(number),
            "start" => new Order.Start(number, json.TryGetProperty("at", out var at) && at.ValueKind != JsonValueKind.Null ? Place(json) : null),
            "stop" => new Order.Stop(number),
            "stay" => new Order.Stay(number, json.TryGetProperty("still", out var still) && still.GetBoolean()),
            "release" => new Order.Release(number),
            "jump" => new Order.Jump(number, Place(json)),
            "loop" => new Order.Loop(number, (Bar(json, "first"), BarFrom(json, "last", Bar(json, "first")))),
            "unloop" => new Order.Loop(number, null),
            "take" => new Order.Take(number, Source(json), json.GetProperty("db").ValueKind == JsonValueKind.Null ? null : Gain(json)),
            "back" => new Order.Back(number, Source(json)),
            "offset" => new Order.Offset(number, Source(json), Gain(json)),
            "mute" => new Order.Mute(number, Source(json), json.GetProperty("on").GetBoolean()),
            "solo" => new Order.Solo(number, Source(json), json.GetProperty("on").GetBoolean()),
            "hold" => new Order.Hold(number),
            "allback" => new Order.AllBack(number),
            "arm" => new Order.Arm(number, json.GetProperty("on").GetBoolean()),
            "link" => new Order.Link(number, Site(json), json.GetProperty("on").GetBoolean()),
            "note" => new Order.Note(number, Note(json)),
            _ => throw new FormatException("there is no such order"),
        };
    }

    private static string Word(JsonElement json) =>
        json.GetProperty("word").GetString() is { Length: >= 16 and <= 64 } word ? word : throw new FormatException("a page calls itself by 16 to 64 characters");

    private int Source(JsonElement json)
    {
        var name = json.GetProperty("source").GetString();
        for (var i = 0; i < sources.Count; i++)
            if (sources[i] == name) return i;
        throw new FormatException($"there is no source \"{name}\"");
    }

    private string Site(JsonElement json) => json.GetProperty("site").GetString() is { } name && sites.Contains(name) ? name : throw new FormatException("there is no such site");

    private static string Note(JsonElement json) => json.GetProperty("text").GetString() is { Length: > 0 and <= LongestNote } text ? text : throw new FormatException($"a note has 1 to {LongestNote} characters");

    private static double Gain(JsonElement json) => json.GetProperty("db").GetDouble() is var gain && Math.Abs(gain) <= MostGain ? gain : throw new FormatException("no fader goes there");

    private double Place(JsonElement json)
    {
        var at = json.GetProperty("at");
        if (at.ValueKind == JsonValueKind.Number) return at.GetDouble() is var quarters && double.IsFinite(quarters) ? quarters : throw new FormatException("there is no such place");
        if (!Position.TryParse(at.GetString() ?? "", out var position, out var problem) || !timeline.TryResolve(position!, out var place, out problem)) throw new FormatException(problem ?? "there is no such place");
        return place.ToDouble();
    }

    private int Bar(JsonElement json, string key) => BarFrom(json, key, 1);

    private int BarFrom(JsonElement json, string key, int least) =>
        json.GetProperty(key).GetInt32() is var bar && bar >= least && bar <= timeline.Bars.Count ? bar : throw new FormatException("there is no such bar");
}
