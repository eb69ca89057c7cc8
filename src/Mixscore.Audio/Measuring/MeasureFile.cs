using System.Text.Json;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// <c>out/measure.json</c>: {<c>sources</c>: [{<c>source</c>, <c>integrated</c>, <c>range</c>, <c>truePeak</c>,
/// <c>noiseFloor</c>, <c>active</c> [[from, to]], <c>drops</c> [[from, to]], <c>bars</c> [{<c>index</c>,
/// <c>loudness</c>}], <c>directCurrent</c>, <c>clipped</c> [[from, to]], <c>bursts</c> [[from, to]]}]}; seconds to three decimals, levels
/// to two, <c>null</c> where there is nothing to read. The last three may be missing.
/// </summary>
public static class MeasureFile
{
    /// <summary>Where it lies in a project folder.</summary>
    public static string PathIn(string projectFolder) => Path.Combine(projectFolder, "out", "measure.json");

    /// <summary>Writes it, whole or not at all.</summary>
    /// <exception cref="UnavailableException">MX221 it cannot be written.</exception>
    public static void Write(string path, IEnumerable<StemMeasurement> measurements)
    {
        var full = Path.GetFullPath(path);
        var temporary = full + ".part";
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(full)!);
            File.WriteAllBytes(temporary, ToJson(measurements));
            File.Move(temporary, full, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UnavailableException([new Fault("MX221", new Place(full), $"cannot be written: {e.Message}", "see that there is room and that you may write there")], e);
        }
    }

    /// <summary>The file's bytes: UTF-8, indented, the same on every machine.</summary>
    public static byte[] ToJson(IEnumerable<StemMeasurement> measurements)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
        {
            json.WriteStartObject();
            json.WriteStartArray("sources");
            foreach (var measurement in measurements) Write(json, measurement);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        bytes.WriteByte((byte)'\n');
        return bytes.ToArray();
    }

    /// <summary>Reads it.</summary>
    /// <exception cref="InputException">MX231 it is not such a file.</exception>
    /// <exception cref="UnavailableException">MX201 it is not there or cannot be read.</exception>
    public static IReadOnlyList<StemMeasurement> Read(string path)
    {
        try
        {
            using var json = JsonDocument.Parse(File.ReadAllBytes(path));
            return [.. json.RootElement.GetProperty("sources").EnumerateArray().Select(Read)];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UnavailableException([new Fault("MX201", new Place(path), "is not there or cannot be read", "run measure first")], e);
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException or KeyNotFoundException or FormatException or ArgumentException)
        {
            throw new InputException(new Fault("MX231", new Place(path), $"this is no file of measurements ({e.Message})", "run measure again"));
        }
    }

    private static void Write(Utf8JsonWriter json, StemMeasurement measurement)
    {
        json.WriteStartObject();
        json.WriteString("source", measurement.Source);
        Level("integrated", measurement.Integrated?.Value);
        Level("range", measurement.Range?.Value);
        Level("truePeak", measurement.TruePeak?.Value);
        Level("noiseFloor", measurement.NoiseFloor?.Value);
        Stretches("active", measurement.Active);
        Stretches("drops", measurement.Drops);
        json.WriteStartArray("bars");
        foreach (var bar in measurement.Bars)
        {
            json.WriteStartObject();
            json.WriteNumber("index", bar.Index);
            Level("loudness", bar.Loudness?.Value);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        Level("directCurrent", measurement.DirectCurrent?.Value);
        Stretches("clipped", measurement.Clipped);
        Stretches("bursts", measurement.Bursts);
        json.WriteEndObject();

        void Level(string name, double? value)
        {
            if (value is { } level) json.WriteNumber(name, Math.Round(level, 2));
            else json.WriteNull(name);
        }

        void Stretches(string name, IReadOnlyList<Stretch> stretches)
        {
            json.WriteStartArray(name);
            foreach (var stretch in stretches)
            {
                json.WriteStartArray();
                json.WriteNumberValue(Math.Round(stretch.From.Value, 3));
                json.WriteNumberValue(Math.Round(stretch.To.Value, 3));
                json.WriteEndArray();
            }
            json.WriteEndArray();
        }
    }

    private static StemMeasurement Read(JsonElement source) => new()
    {
        Source = source.GetProperty("source").GetString() ?? throw new FormatException("a source has no name"),
        Integrated = Loudness(source.GetProperty("integrated")),
        Range = Level(source.GetProperty("range")),
        TruePeak = Level(source.GetProperty("truePeak")),
        NoiseFloor = Loudness(source.GetProperty("noiseFloor")),
        Active = Stretches(source.GetProperty("active")),
        Drops = Stretches(source.GetProperty("drops")),
        Bars = [.. source.GetProperty("bars").EnumerateArray().Select(bar => new BarLoudness(bar.GetProperty("index").GetInt32(), Loudness(bar.GetProperty("loudness"))))],
        DirectCurrent = source.TryGetProperty("directCurrent", out var off) ? Level(off) : null,
        Clipped = source.TryGetProperty("clipped", out var clipped) ? Stretches(clipped) : [],
        Bursts = source.TryGetProperty("bursts", out var bursts) ? Stretches(bursts) : [],
    };

    private static Decibels? Level(JsonElement value) => value.ValueKind == JsonValueKind.Null ? null : Decibels.Of(value.GetDouble());

    private static Lufs? Loudness(JsonElement value) => Level(value) is { } level ? new Lufs(level.Value) : null;

    private static IReadOnlyList<Stretch> Stretches(JsonElement value) =>
        [.. value.EnumerateArray().Select(pair => new Stretch(new Seconds(pair[0].GetDouble()), new Seconds(pair[1].GetDouble())))];
}
