using System.Text.Json;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>The project as the client takes it at <c>/project.json</c>. Quarters and seconds are numbers, gains dB, levels LU over the reference.</summary>
internal static class ProjectJson
{
    internal static byte[] Write(PageProject project)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes))
        {
            var (plan, timeline) = (project.Plan, project.Timeline);
            json.WriteStartObject();
            json.WriteString("title", plan.Title);
            json.WriteString("mode", project.Text is null ? "perform" : "rehearse");
            json.WriteNumber("reference", plan.Reference.Value);
            json.WriteNumber("end", timeline.End.ToDouble());
            json.WriteNumber("seconds", Rounded(timeline.Duration.Value));
            json.WriteNumber("rate", project.Stems.Count > 0 ? project.Stems[0].Stem.File.Format.SampleRate : 0);
            json.WriteNumber("bottom", plan.Limits.Bottom.Value);
            json.WriteNumber("top", plan.Limits.Top.Value);
            json.WriteString("scoreKey", ScoreText.Key(project.ScorePath));
            WriteBars(json, timeline);
            json.WriteStartArray("letters");
            foreach (var letter in timeline.Letters)
            {
                json.WriteStartObject();
                json.WriteString("name", letter.Name);
                json.WriteNumber("bar", letter.Bar);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteStartArray("sites");
            foreach (var site in plan.Sites)
            {
                json.WriteStartObject();
                json.WriteString("name", site.Name);
                json.WriteNumber("delay", site.Link.Delay.Value);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteStartArray("sources");
            var marks = project.Text is null ? null : new WrittenMarks(project.OnScore, project.Text);
            for (var i = 0; i < plan.Sources.Count; i++) WriteSource(json, project, i, marks);
            json.WriteEndArray();
            json.WriteEndObject();
        }
        return bytes.ToArray();
    }

    private static void WriteBars(Utf8JsonWriter json, Timeline timeline)
    {
        json.WriteStartArray("bars");
        foreach (var bar in timeline.Bars)
        {
            json.WriteStartObject();
            json.WriteNumber("index", bar.Index);
            json.WriteString("label", bar.Label);
            json.WriteNumber("written", bar.Written);
            json.WriteNumber("pass", bar.Pass);
            json.WriteString("meter", bar.Meter.Text);
            json.WriteNumber("start", bar.Start.ToDouble());
            json.WriteNumber("length", bar.Length.ToDouble());
            json.WriteNumber("seconds", Rounded(timeline.Tempo.SecondsAt(bar.Start).Value));
            json.WriteStartArray("beats");
            foreach (var beat in bar.Beats) json.WriteNumberValue(Rounded(beat.ToDouble()));
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void WriteSource(Utf8JsonWriter json, PageProject project, int index, WrittenMarks? marks)
    {
        var planned = project.OnScore.Sources[index];
        var source = planned.Source;
        json.WriteStartObject();
        json.WriteString("name", source.Name);
        json.WriteString("site", source.Site.Name);
        json.WriteString("role", source.Role.ToString().ToLowerInvariant());
        json.WriteNumber("strip", source.Strip);
        json.WriteNumber("within", source.Within.Value);
        if (planned.Part is { } part) json.WriteString("part", part.Id);
        else json.WriteNull("part");
        if (project.Stems.Count > 0 && project.Stems[index].Measurement.Integrated is { } integrated) json.WriteNumber("integrated", Rounded(integrated.Value));
        else json.WriteNull("integrated");
        marks?.Write(json, source.Name);
        var lines = LevelLines.Of(project, index);
        WriteLine(json, "target", lines.Target.Points);
        WriteLine(json, "low", lines.Low.Points);
        WriteLine(json, "high", lines.High.Points);
        WriteLine(json, "measured", lines.Measured.Points);
        WriteLine(json, "ride", [.. project.Rides[index].Vertices.Select(vertex => (vertex.At.ToDouble(), vertex.Gain?.Value))]);
        json.WriteEndObject();
    }

    private static void WriteLine(Utf8JsonWriter json, string key, IReadOnlyList<(double At, double? Value)> points)
    {
        json.WriteStartArray(key);
        foreach (var (at, value) in points)
        {
            json.WriteNumberValue(Rounded(at));
            if (value is { } level) json.WriteNumberValue(Math.Round(level, 2));
            else json.WriteNullValue();
        }
        json.WriteEndArray();
    }

    private static double Rounded(double value) => Math.Round(value, 5);
}
