using System.Text.Encodings.Web;
using System.Text.Json;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// A line of a log: a JSON object with <c>t</c> (seconds since the log was begun), <c>at</c> (position; <c>null</c> during a
/// count-in), <c>kind</c>, and as far as the kind has them <c>seconds</c> (into the score, by the click), <c>source</c>,
/// <c>desk</c> (from 1), <c>db</c> (<c>null</c> = off), <c>value</c>, <c>text</c>.
/// </summary>
public static class LogLine
{
    private static readonly JsonWriterOptions Writing = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes an entry as a line, with its line end.</summary>
    internal static void Write(Stream to, in LogEntry entry, TimeSpan since, Timeline timeline, IReadOnlyList<LiveSource> sources)
    {
        using (var json = new Utf8JsonWriter(to, Writing))
        {
            json.WriteStartObject();
            json.WriteNumber("t", Math.Round((entry.When + since).TotalSeconds, 3));
            if (!entry.IsCountIn && Position(timeline, entry.At) is { } at) json.WriteString("at", at);
            else json.WriteNull("at");
            json.WriteString("kind", LogNames.Of(entry.Kind));
            json.WriteNumber("seconds", Math.Round(entry.At.Value, 4));
            if (entry.Index >= 0 && entry.Kind == LogKind.Desk) json.WriteNumber("desk", entry.Index + 1);
            else if (entry.Index >= 0) json.WriteString("source", sources[entry.Index].Source.Name);
            if (entry is { HasGain: true, Gain: { } gain }) json.WriteNumber("db", Math.Round(gain.Value, 3));
            else if (entry.HasGain) json.WriteNull("db");
            if (entry.Number is { } number) json.WriteNumber("value", Math.Round(number, 6));
            if (entry.Text is { } text) json.WriteString("text", text);
            json.WriteEndObject();
        }
        to.WriteByte((byte)'\n');
    }

    /// <summary>An entry as its line will be read back.</summary>
    public static LogRecord Of(in LogEntry entry, LivePlan plan) => new(entry.Kind, entry.When)
    {
        At = entry.IsCountIn ? null : Position(plan.Timeline, entry.At),
        Seconds = entry.At,
        Source = entry.Index >= 0 && entry.Kind != LogKind.Desk ? plan.Sources[entry.Index].Source.Name : null,
        Desk = entry.Kind == LogKind.Desk ? entry.Index + 1 : null,
        HasGain = entry.HasGain,
        Gain = entry.Gain,
        Value = entry.Number,
        Text = entry.Text,
    };

    /// <summary>A place as a position, cut to hundredths of a beat; <c>null</c> before the beginning.</summary>
    public static string? Position(Timeline timeline, Seconds at)
    {
        if (at < Seconds.Zero) return null;
        // A hair more than it is, so that a barline's own time is not the bar before.
        var quarters = timeline.Tempo.QuartersAt(at) + 1e-7;
        if (quarters >= timeline.End.ToDouble()) return "end";
        var bar = timeline.BarAt(quarters);
        var beat = 0;
        while (beat + 1 < bar.Beats.Count && bar.Beats[beat + 1].ToDouble() <= quarters) beat++;
        var start = timeline.PositionAt(bar.Beats[beat]).ToString();
        var length = beat + 1 < bar.Beats.Count ? (bar.Beats[beat + 1] - bar.Beats[beat]).ToDouble() : Math.Max((bar.End - bar.Beats[beat]).ToDouble(), 1e-9);
        var hundredths = Math.Min(99, (int)((quarters - bar.Beats[beat].ToDouble()) / length * 100));
        if (hundredths == 0) return start;
        return $"{(start.Contains(':', StringComparison.Ordinal) ? start : start + ":1")}+{new Fraction(hundredths, 100)}";
    }

    /// <summary>Reads a line.</summary>
    /// <returns><c>null</c> for a line that is cut or is none.</returns>
    public static LogRecord? Read(string line)
    {
        try
        {
            using var json = JsonDocument.Parse(line);
            var root = json.RootElement;
            if (root.ValueKind != JsonValueKind.Object || LogNames.Find(root.GetProperty("kind").GetString() ?? "") is not { } kind) return null;
            return new LogRecord(kind, TimeSpan.FromSeconds(root.GetProperty("t").GetDouble()))
            {
                At = Text(root, "at"),
                Seconds = Number(root, "seconds") is { } seconds ? new Seconds(seconds) : null,
                Source = Text(root, "source"),
                Desk = (int?)Number(root, "desk"),
                HasGain = root.TryGetProperty("db", out _),
                Gain = Number(root, "db") is { } db ? Decibels.Of(db) : null,
                Value = Number(root, "value"),
                Text = Text(root, "text"),
                Details = root.Clone(),
            };
        }
        catch (Exception problem) when (problem is JsonException or InvalidOperationException or KeyNotFoundException or FormatException or OverflowException or ArgumentException)
        {
            return null;
        }
    }

    private static string? Text(JsonElement root, string key) => root.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static double? Number(JsonElement root, string key) => root.TryGetProperty(key, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;
}
