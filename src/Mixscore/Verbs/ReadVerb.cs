using System.ComponentModel;
using System.Globalization;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>read SCORE|PLAN</c>: what the score says.</summary>
internal sealed class ReadVerb(Terminal terminal) : Command<ReadVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<SCORE>")]
        [Description("A MusicXML file (.musicxml, .xml, .mxl) or a Standard MIDI File (.mid); or a plan, whose tempo: then counts.")]
        public required string File { get; init; }

        [CommandOption("--json")]
        [Description("Write it all as JSON.")]
        public bool Json { get; init; }

        [CommandOption("--no-repeats")]
        [Description("Play every section once.")]
        public bool WithoutRepeats { get; init; }
    }

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var (score, timeline, warnings) = Read(settings);
        if (settings.Json) JsonOut.Write(terminal, ScoreReading.Of(score, timeline, warnings));
        else Show(score, timeline, warnings);
        return ExitCode.Good;
    }

    private static (WrittenScore Score, Timeline Timeline, IReadOnlyList<Fault> Warnings) Read(Settings settings)
    {
        if (OpenProject.IsPlan(settings.File))
        {
            var project = OpenProject.Open(settings.File).OnScore;
            return (project.Score, project.Timeline, project.Warnings);
        }
        var score = ScoreFile.Read(settings.File);
        var built = TimelineBuilder.Build(score, new TimelineOptions { WithRepeats = !settings.WithoutRepeats });
        return (score, built.Timeline, [.. score.Warnings, .. built.Warnings]);
    }

    private void Show(WrittenScore score, Timeline timeline, IReadOnlyList<Fault> warnings)
    {
        terminal.Say(score.Title.Length > 0 ? score.Title : "(no title)");
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{score.Bars.Count} bars written, {timeline.Bars.Count} played, {timeline.End} quarters, {Tables.Minutes(timeline.Duration)} ({timeline.Duration.Value:0.000} s by the click)"));
        terminal.Say();

        var form = Tables.Words("", "");
        form.HideHeaders();
        form.AddRow("Played", Markup.Escape(string.Join(", ", Runs(timeline.Bars))));
        if (timeline.Letters.Count > 0) form.AddRow("Letters", Markup.Escape(string.Join("  ", timeline.Letters.Select(letter => $"{letter.Name} {timeline.Bars[letter.Bar - 1]}"))));
        form.AddRow("Meters", Markup.Escape(string.Join("  ", Changes(timeline.Bars, bar => bar.Meter.Text))));
        form.AddRow("Tempo", Markup.Escape(string.Join("  ", Tempi(timeline))));
        terminal.Out.Write(form);

        var parts = Tables.Words("Part", "Name", "Dynamics", "Hairpins", "Notes");
        foreach (var part in score.Parts) parts.AddRow(Markup.Escape(part.Id), Markup.Escape(part.Name), $"{part.Dynamics.Count}", $"{part.Hairpins.Count}", $"{part.Notes.Count}");
        terminal.Out.Write(parts);
        Warnings.Show(terminal, warnings);
    }

    /// <summary>The form at a glance: stretches of bars that follow one another in the score, with their pass.</summary>
    private static IEnumerable<string> Runs(IReadOnlyList<PlayedBar> bars)
    {
        for (var first = 0; first < bars.Count;)
        {
            var last = first;
            while (last + 1 < bars.Count && bars[last + 1].Written == bars[last].Written + 1 && bars[last + 1].Pass == bars[first].Pass) last++;
            var run = first == last ? bars[first].Label : $"{bars[first].Label}–{bars[last].Label}";
            yield return bars[first].Pass > 1 ? $"{run} ({Ordinal(bars[first].Pass)})" : run;
            first = last + 1;
        }
    }

    private static IEnumerable<string> Changes(IReadOnlyList<PlayedBar> bars, Func<PlayedBar, string> what)
    {
        string? last = null;
        foreach (var bar in bars)
        {
            var now = what(bar);
            if (now != last) yield return $"{now} from {bar}";
            last = now;
        }
    }

    private static IEnumerable<string> Tempi(Timeline timeline)
    {
        foreach (var piece in timeline.Tempo.Pieces)
            yield return string.Create(CultureInfo.InvariantCulture, $"{piece.StartTempo:0.##}{(piece.IsConstant ? "" : $" > {piece.EndTempo:0.##}")} from {timeline.PositionAt(piece.From)}");
    }

    private static string Ordinal(int number) => number switch
    {
        2 => "2nd",
        3 => "3rd",
        _ => string.Create(CultureInfo.InvariantCulture, $"{number}th"),
    };
}
