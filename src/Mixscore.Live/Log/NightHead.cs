using System.Text.Json;

namespace Mixscore.Live;

/// <summary>What the first line of a log says, and each line at which a run was taken up again.</summary>
/// <param name="Date">When, by the clock of day.</param>
/// <param name="Plan">The plan's file.</param>
/// <param name="PlanKey">A fingerprint of plan and rides, to tell whether they are the same when the log is read.</param>
/// <param name="Clock">The clock's name.</param>
/// <param name="Desks">The desks' titles.</param>
/// <param name="Boot">Which start of the machine it was; empty where the machine does not say.</param>
/// <param name="Uptime">How long the machine had been up.</param>
/// <param name="IsRehearsal">Whether it was a rehearsal with the stems and no performance.</param>
public sealed record NightHead(DateTimeOffset Date, string Plan, string PlanKey, string Clock, IReadOnlyList<string> Desks, string Boot, TimeSpan Uptime, bool IsRehearsal = false)
{
    /// <summary>The hall, as the plan names it; <c>null</c> where it names none. Read back only: the plan knows it.</summary>
    public string? Hall { get; private init; }

    /// <summary>How long ago a head was written. Where the machine has not been started anew its own time tells, which nobody sets; else
    /// the clock of day does.</summary>
    /// <param name="before">The earlier head.</param>
    public TimeSpan Since(NightHead before)
    {
        var since = Boot.Length > 0 && Boot == before.Boot ? Uptime - before.Uptime : Date - before.Date;
        return since > TimeSpan.Zero ? since : TimeSpan.Zero;
    }

    internal void Write(Stream to, LogKind kind, TimeSpan since, LivePlan plan)
    {
        using (var json = new Utf8JsonWriter(to))
        {
            json.WriteStartObject();
            json.WriteNumber("t", Math.Round(since.TotalSeconds, 3));
            json.WriteNull("at");
            json.WriteString("kind", LogNames.Of(kind));
            json.WriteString("date", Date);
            json.WriteString("plan", Plan);
            json.WriteString("planKey", PlanKey);
            json.WriteString("clock", Clock);
            json.WriteStartArray("desks");
            foreach (var desk in Desks) json.WriteStringValue(desk);
            json.WriteEndArray();
            json.WriteString("boot", Boot);
            json.WriteNumber("uptime", Math.Round(Uptime.TotalSeconds, 3));
            json.WriteBoolean("rehearsal", IsRehearsal);
            if (plan.Hall is { } hall) json.WriteString("hall", hall);
            NightRides.Write(json, plan);
            json.WriteEndObject();
        }
        to.WriteByte((byte)'\n');
    }

    /// <summary>Reads it from a line; <c>null</c> where something is missing.</summary>
    internal static NightHead? Of(LogRecord line)
    {
        var root = line.Details;
        try
        {
            return new NightHead(
                root.GetProperty("date").GetDateTimeOffset(),
                root.GetProperty("plan").GetString() ?? "",
                root.GetProperty("planKey").GetString() ?? "",
                root.GetProperty("clock").GetString() ?? "",
                [.. root.GetProperty("desks").EnumerateArray().Select(desk => desk.GetString() ?? "")],
                root.GetProperty("boot").GetString() ?? "",
                TimeSpan.FromSeconds(root.GetProperty("uptime").GetDouble()),
                root.TryGetProperty("rehearsal", out var rehearsal) && rehearsal.ValueKind == JsonValueKind.True)
            {
                Hall = root.TryGetProperty("hall", out var hall) ? hall.GetString() : null,
            };
        }
        catch (Exception problem) when (problem is KeyNotFoundException or InvalidOperationException or FormatException or OverflowException)
        {
            return null;
        }
    }
}
