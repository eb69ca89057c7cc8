using System.Text.Json;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>The rides that a night was played with, in the head of its log, so that what a hand did can be told from what the plan did when both have changed since.</summary>
internal static class NightRides
{
    /// <summary>Writes them as <c>rides</c>: an object a source with its name and its vertices, each a position and dB (<c>null</c> = off).</summary>
    internal static void Write(Utf8JsonWriter json, LivePlan plan)
    {
        json.WriteStartArray("rides");
        foreach (var source in plan.Sources)
        {
            json.WriteStartObject();
            json.WriteString("source", source.Source.Name);
            json.WriteStartArray("vertices");
            foreach (var vertex in source.Ride.Vertices)
            {
                json.WriteStartArray();
                json.WriteStringValue(plan.Timeline.PositionAt(vertex.At).ToString());
                if (vertex.Gain is { } gain) json.WriteNumberValue(Math.Round(gain.Value, 4));
                else json.WriteNullValue();
                json.WriteEndArray();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    /// <summary>Reads them from a head. A vertex whose place the score no longer has is left out.</summary>
    /// <param name="head">The line.</param>
    /// <param name="timeline">Where positions lie.</param>
    /// <param name="bottom">The bottom of the fader's range.</param>
    /// <returns>A ride a source; none where the head has none, and none for a source whose ride is not whole.</returns>
    internal static IReadOnlyDictionary<string, Ride> Read(LogRecord head, Timeline timeline, Decibels bottom)
    {
        var rides = new Dictionary<string, Ride>(StringComparer.Ordinal);
        if (head.Details.ValueKind != JsonValueKind.Object || !head.Details.TryGetProperty("rides", out var all) || all.ValueKind != JsonValueKind.Array) return rides;
        foreach (var one in all.EnumerateArray())
        {
            try
            {
                var name = one.GetProperty("source").GetString()!;
                var vertices = one.GetProperty("vertices").EnumerateArray().Select(vertex => Vertex(vertex, timeline)).OfType<Vertex>()
                    .OrderBy(vertex => vertex.At).DistinctBy(vertex => vertex.At).ToArray();
                if (vertices.Length >= 2) rides[name] = new Ride(name, vertices, bottom);
            }
            catch (Exception problem) when (problem is KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
            {
                // A ride that is not whole is none.
            }
        }
        return rides;
    }

    private static Vertex? Vertex(JsonElement vertex, Timeline timeline) =>
        Position.TryParse(vertex[0].GetString() ?? "", out var position, out _) && timeline.TryResolve(position!, out var place, out _)
            ? new Vertex(place, vertex[1].ValueKind == JsonValueKind.Null ? null : Decibels.Of(vertex[1].GetDouble()))
            : null;
}
