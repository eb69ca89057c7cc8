using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>Places and figures as one would say them.</summary>
internal static class PlaceWords
{
    internal const string None = "–";

    /// <summary>The beat on which a place lies: <c>17:3</c>, <c>17@2</c>.</summary>
    internal static string Beat(Timeline timeline, double quarters)
    {
        var bar = timeline.BarAt(Math.Clamp(quarters, 0, Math.BitDecrement(timeline.End.ToDouble())));
        var beat = bar.Beats.Count(place => place.ToDouble() <= quarters + 1e-9);
        return beat <= 1 ? $"{bar}" : string.Create(CultureInfo.InvariantCulture, $"{bar}:{beat}");
    }

    internal static string Signed(Decibels? value, string unit) => value is { } v ? $"{Markup.Signed(v.Value)} {unit}" : None;

    internal static string Gain(Decibels? gain) => gain is { } db ? Signed(db, "dB") : "off";

    /// <summary>The cells of a stretch in a table: from, to, letter.</summary>
    internal static string[] Cells(ComparedStretch stretch) => [$"{stretch.From}", $"{stretch.To}", stretch.Letter ?? ""];
}

/// <summary>A table of words, for the terminal and the report alike.</summary>
/// <param name="Head">The columns.</param>
/// <param name="Rows">The rows, each of as many cells.</param>
public sealed record WordTable(IReadOnlyList<string> Head, IReadOnlyList<IReadOnlyList<string>> Rows);
