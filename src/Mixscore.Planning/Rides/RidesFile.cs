using System.Text.Encodings.Web;
using System.Text.Json;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// <c>out/rides.json</c>: <c>bottom</c> (dB), <c>sources</c> [{<c>source</c>, <c>vertices</c> [{<c>position</c>,
/// <c>quarters</c> (exact, as text), <c>seconds</c> (by the click), <c>db</c> (<c>null</c> = off)}], <c>widened</c>
/// [{<c>from</c>, <c>to</c> (positions), <c>fromQuarters</c>, <c>toQuarters</c>, <c>by</c> (dB), <c>cause</c>,
/// <c>because</c> (text)}]}]. Numbers are rounded to a millionth.
/// </summary>
public static class RidesFile
{
    private const string Unreadable = "MX191";

    private static readonly JsonWriterOptions Writing = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes the file, whole or not at all; its folder is made if need be.</summary>
    /// <param name="path">Where.</param>
    /// <param name="timeline">The piece, for positions and seconds.</param>
    /// <param name="sources">The rides, all with the same bottom.</param>
    public static void Write(string path, Timeline timeline, IReadOnlyList<FittedSource> sources)
    {
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder) Directory.CreateDirectory(folder);
        var beside = path + ".part";
        try
        {
            using (var stream = File.Create(beside)) Write(stream, timeline, sources);
            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    /// <summary>Writes the text of the file, UTF-8 with a line end at its end.</summary>
    public static void Write(Stream stream, Timeline timeline, IReadOnlyList<FittedSource> sources)
    {
        using (var json = new Utf8JsonWriter(stream, Writing))
        {
            json.WriteStartObject();
            if (sources.Count > 0) Number(json, "bottom", sources[0].Ride.Bottom.Value);
            json.WriteStartArray("sources");
            foreach (var source in sources) Write(json, timeline, source);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        stream.WriteByte((byte)'\n');
    }

    /// <summary>Reads the file.</summary>
    /// <exception cref="InputException">It is not such a file.</exception>
    public static IReadOnlyList<FittedSource> Read(string path)
    {
        using var stream = File.OpenRead(path);
        return Read(stream, path);
    }

    /// <summary>Reads the text of the file.</summary>
    /// <param name="stream">The text.</param>
    /// <param name="file">What to call it where it is at fault.</param>
    /// <exception cref="InputException">It is not such a file.</exception>
    public static IReadOnlyList<FittedSource> Read(Stream stream, string file)
    {
        try
        {
            using var document = JsonDocument.Parse(stream);
            var root = document.RootElement;
            var sources = Need(root, "sources");
            if (sources.GetArrayLength() == 0) return [];
            var bottom = Decibels.Of(Need(root, "bottom").GetDouble());
            return [.. sources.EnumerateArray().Select(source => ReadSource(source, bottom))];
        }
        catch (JsonException problem)
        {
            var place = new Place(file, (int)(problem.LineNumber ?? -1) + 1, (int)(problem.BytePositionInLine ?? -1) + 1);
            throw new InputException(Fault(place, "this is not JSON"));
        }
        catch (Exception problem) when (problem is InvalidOperationException or FormatException or ArgumentException or OverflowException)
        {
            throw new InputException(Fault(new Place(file), $"the rides cannot be read: {problem.Message.TrimEnd('.')}"));
        }
    }

    private static Fault Fault(Place place, string found) => new(Unreadable, place, found, "make it anew with `mixscore fit`");

    private static void Write(Utf8JsonWriter json, Timeline timeline, FittedSource source)
    {
        json.WriteStartObject();
        json.WriteString("source", source.Source);
        json.WriteStartArray("vertices");
        foreach (var vertex in source.Ride.Vertices)
        {
            json.WriteStartObject();
            json.WriteString("position", timeline.PositionAt(vertex.At).ToString());
            json.WriteString("quarters", vertex.At.ToString());
            Number(json, "seconds", timeline.Tempo.SecondsAt(vertex.At).Value);
            if (vertex.Gain is { } gain) Number(json, "db", gain.Value);
            else json.WriteNull("db");
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("widened");
        foreach (var stretch in source.Widened)
        {
            json.WriteStartObject();
            json.WriteString("from", timeline.PositionAt(stretch.From).ToString());
            json.WriteString("to", timeline.PositionAt(stretch.To).ToString());
            json.WriteString("fromQuarters", stretch.From.ToString());
            json.WriteString("toQuarters", stretch.To.ToString());
            Number(json, "by", stretch.By.Value);
            json.WriteString("cause", Cause(stretch.Because));
            json.WriteString("because", stretch.Text);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Number(Utf8JsonWriter json, string key, double value) =>
        json.WriteNumber(key, Math.Round(value, 6) + 0.0);   // + 0.0: no -0

    private static FittedSource ReadSource(JsonElement source, Decibels bottom)
    {
        var vertices = Need(source, "vertices").EnumerateArray().Select(vertex => new Vertex(
            ReadQuarters(vertex, "quarters"),
            Need(vertex, "db") is { ValueKind: not JsonValueKind.Null } db ? Decibels.Of(db.GetDouble()) : null));
        var widened = Need(source, "widened").EnumerateArray().Select(stretch => new WidenedStretch(
            ReadQuarters(stretch, "fromQuarters"), ReadQuarters(stretch, "toQuarters"),
            Decibels.Of(Need(stretch, "by").GetDouble()), ReadCause(Text(stretch, "cause")), Text(stretch, "because")));
        return new FittedSource(new Ride(Text(source, "source"), [.. vertices], bottom), [.. widened]);
    }

    private static Quarters ReadQuarters(JsonElement element, string key) => Fraction.TryParse(Text(element, key), out var value)
        ? new Quarters(value)
        : throw new FormatException($"\"{Text(element, key)}\" is not a fraction of quarters");

    private static JsonElement Need(JsonElement element, string key) =>
        element.TryGetProperty(key, out var value) ? value : throw new FormatException($"\"{key}\" is missing");

    private static string Text(JsonElement element, string key) =>
        Need(element, key).GetString() ?? throw new FormatException($"\"{key}\" is empty");

    private static string Cause(Because because) => because switch
    {
        Because.TooQuiet => "too-quiet",
        Because.TooLoud => "too-loud",
        Because.TooFast => "too-fast",
        Because.TooNarrow => "too-narrow",
        Because.Pinned => "pinned",
        _ => "no-room",
    };

    private static Because ReadCause(string text) =>
        Enum.GetValues<Because>().Where(because => Cause(because) == text).Select(because => (Because?)because).FirstOrDefault()
        ?? throw new FormatException($"\"{text}\" is not a cause");
}
