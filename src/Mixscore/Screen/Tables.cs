using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Reports;
using Mixscore.Score;
using Spectre.Console;

namespace Mixscore.Screen;

/// <summary>Tables that read alike in every verb: words to the left, figures to the right, a dash where there is none.</summary>
internal static class Tables
{
    internal const string None = "–";

    internal static Table Plain(string first, params string[] others)
    {
        var table = new Table().Border(TableBorder.Simple);
        table.AddColumn(new TableColumn(first));
        foreach (var name in others) table.AddColumn(new TableColumn(name).RightAligned());
        return table;
    }

    /// <summary>A table of words, all to the left.</summary>
    internal static Table Words(params string[] names)
    {
        var table = new Table().Border(TableBorder.Simple);
        foreach (var name in names) table.AddColumn(new TableColumn(name));
        return table;
    }

    internal static Table Of(WordTable words)
    {
        var table = Words([.. words.Head]);
        foreach (var row in words.Rows) table.AddRow([.. row.Select(Markup.Escape)]);
        return table;
    }

    internal static string Lufs(Lufs? level) => level?.ToString() ?? None;

    internal static string Unit(Decibels? value, string unit) => value is { } v ? string.Create(CultureInfo.InvariantCulture, $"{v.Value:0.0} {unit}") : None;

    internal static string Minutes(Seconds duration)
    {
        var whole = (int)Math.Round(duration.Value);
        return string.Create(CultureInfo.InvariantCulture, $"{whole / 60}:{whole % 60:00}");
    }
}
