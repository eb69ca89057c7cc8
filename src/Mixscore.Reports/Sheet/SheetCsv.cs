using System.Globalization;
using System.Text;
using Mixscore.Loudness;

namespace Mixscore.Reports;

/// <summary>
/// The moves as comma-separated values (RFC 4180) in UTF-8, a row a move: <c>source</c>, <c>site</c>, <c>strip</c>, <c>from</c>
/// and <c>to</c> (positions), <c>from_seconds</c> and <c>to_seconds</c> (by the click), <c>from_db</c> and <c>to_db</c> (empty
/// = off), <c>beats</c>.
/// </summary>
public static class SheetCsv
{
    /// <summary>The text of the file.</summary>
    /// <param name="input">What the sheet shows.</param>
    /// <param name="source">The one source that is wanted; <c>null</c> for all.</param>
    public static string Write(SheetInput input, string? source = null)
    {
        var timeline = input.Plan.Timeline;
        var csv = new StringBuilder("source,site,strip,from,to,from_seconds,to_seconds,from_db,to_db,beats\r\n");
        foreach (var (planned, fitted) in input.Plan.Sources.Zip(input.Rides))
        {
            if (source is not null && planned.Source.Name != source) continue;
            foreach (var move in SheetMove.Of(timeline, fitted.Ride))
                csv.AppendJoin(',', Quoted(planned.Source.Name), Quoted(planned.Source.Site.Name), planned.Source.Strip.ToString(CultureInfo.InvariantCulture),
                    Quoted(move.At), Quoted(SheetMove.BarAndBeat(timeline, move.To)), Number(timeline.Tempo.SecondsAt(move.From).Value), Number(timeline.Tempo.SecondsAt(move.To).Value),
                    Gain(move.Start), Gain(move.End), Number(move.Beats)).Append("\r\n");
        }
        return csv.ToString();
    }

    private static string Gain(Decibels? gain) => gain is { } value ? Number(value.Value) : "";

    private static string Number(double value) => (Math.Round(value, 6) + 0.0).ToString("0.######", CultureInfo.InvariantCulture);

    private static string Quoted(string text) => text.AsSpan().IndexOfAny(",\"\r\n") < 0 ? text : "\"" + text.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"";
}
