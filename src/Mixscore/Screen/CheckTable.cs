using System.Globalization;
using Mixscore.Reports;
using Spectre.Console;

namespace Mixscore.Screen;

/// <summary>What a check found, a line a source, and the verdict in words.</summary>
internal static class CheckTable
{
    internal static Table Of(CheckResult result)
    {
        var table = Tables.Plain("Source", "Stem", "Vertices", "Beats within level", "", "Widened", "Leads", "Over the rest", "Verdict");
        foreach (var source in result.Sources)
        {
            var led = result.Clarity.Where(bar => bar.Lead == source.Source.Name && bar.Over is not null).Select(bar => bar.Over!.Value.Value).ToArray();
            table.AddRow(
                Markup.Escape(source.Source.Name),
                Tables.Lufs(source.StemIntegrated),
                $"{source.Ride.Vertices.Count}",
                $"{source.BeatsWithin} of {source.BeatsActive}",
                source.BeatsActive == 0 ? Tables.None : string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(1000.0 * source.BeatsWithin / source.BeatsActive) / 10:0.0} %"),
                source.Widened.Count == 0 ? Tables.None : $"{source.Widened.Count}",
                led.Length == 0 ? Tables.None : $"{led.Length} bar{(led.Length == 1 ? "" : "s")}",
                led.Length == 0 ? Tables.None : string.Create(CultureInfo.InvariantCulture, $"{led.Average():+0.0;-0.0;0.0} LU"),
                source.BeatsActive == 0 ? "not heard" : source.IsGood ? "good" : "short");
        }
        return table;
    }

    internal static void Verdict(Terminal terminal, CheckResult result)
    {
        terminal.Out.MarkupLine(result.IsGood ? "[bold green]The mix is good.[/]" : "[bold red]The mix falls short.[/]");
        foreach (var reason in result.Because) terminal.Say("  " + reason);
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"  Integrated {Tables.Lufs(result.Mix.Integrated)}, range {Tables.Unit(result.Mix.Range, "LU")}, true peak {Tables.Unit(result.Mix.TruePeak, "dBTP")}."));
        foreach (var words in result.Recording?.Words ?? []) terminal.Say("  " + words);
        if (result.Recording is not null) terminal.Say("  " + RecordingCheck.Limits);
        if (result.Exposure is not { } exposure) return;
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"  At the listening place LAeq {exposure.Equivalent:0.0} dB(A) over the piece, {exposure.Quarter:0.0} over 15 minutes; {100 * exposure.Dose:0.0} % of a day's dose (NIOSH 98-126, 85 dB(A), 3 dB)."));
        terminal.Say($"  {ExposureForecast.Caution}");
    }
}
