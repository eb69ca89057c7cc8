using System.Text.Json;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>The marks and pins of a plan as they are written, with where they lie: what a page edits.</summary>
internal sealed class WrittenMarks(PlanOnScore plan, string text)
{
    private readonly PlanEditor _editor = new(text, plan.Plan.File, plan.Timeline);

    /// <summary>
    /// Writes <c>marks</c> and <c>pins</c> of a source: <c>key</c> and <c>text</c> as they are written, <c>at</c> and <c>until</c> in quarters (<c>null</c> without
    /// a range), <c>start</c> and <c>end</c> in LU or dB (<c>null</c> where it is off or leans on others).
    /// </summary>
    internal void Write(Utf8JsonWriter json, string source)
    {
        json.WriteStartArray("marks");
        var marks = plan.Plan.Levels.FirstOrDefault(levels => levels.Source == source)?.Marks ?? [];
        foreach (var (mark, (key, words)) in marks.Zip(_editor.MarksOf(source))) Write(json, key, words, mark.From, mark.To, ValueOf(mark.Start), ValueOf(mark.End));
        json.WriteEndArray();
        json.WriteStartArray("pins");
        var pins = plan.Plan.Pins.FirstOrDefault(list => list.Source == source)?.Pins ?? [];
        foreach (var (pin, (key, words)) in pins.Zip(_editor.PinsOf(source))) Write(json, key, words, pin.From, pin.To, pin.Start.Value, pin.End.Value);
        json.WriteEndArray();
    }

    private void Write(Utf8JsonWriter json, string key, string words, Position from, Position? to, double? start, double? end)
    {
        if (!plan.Timeline.TryResolve(from, out var at, out _)) return;
        json.WriteStartObject();
        json.WriteString("key", key);
        json.WriteString("text", words);
        json.WriteNumber("at", Math.Round(at.ToDouble(), 5));
        if (to is not null && plan.Timeline.TryResolve(to, out var until, out _)) json.WriteNumber("until", Math.Round(until.ToDouble(), 5));
        else json.WriteNull("until");
        Write(json, "start", start);
        Write(json, "end", end);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string key, double? value)
    {
        if (value is { } number) json.WriteNumber(key, Math.Round(number, 3));
        else json.WriteNull(key);
    }

    private static double? ValueOf(Level level) => level is Level.At at ? at.OverReference.Value : null;
}
