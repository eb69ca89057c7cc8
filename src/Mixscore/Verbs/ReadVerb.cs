using System.ComponentModel;
using System.Globalization;
using Mixscore.Planning;
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
        [Description("Play every section once, with its last ending.")]
        public bool WithoutRepeats { get; init; }

        [CommandOption("--tempo <FILE>")]
        [Description("Take the tempo from this file, such as the MIDI file of the players' click, and not from the score.")]
        public string? TempoFile { get; init; }

        [CommandOption("--begin <POSITION>")]
        [Description("Where in the tempo file the score begins, such as 3 behind two bars of count-in.")]
        public string? Begin { get; init; }

        public override ValidationResult Validate() =>
            Begin is null ? ValidationResult.Success()
            : TempoFile is null ? ValidationResult.Error("--begin is a position in the tempo file; give --tempo FILE as well")
            : Position.TryParse(Begin, out _, out var problem) ? ValidationResult.Success()
            : ValidationResult.Error($"--begin {Begin}: {problem}");
    }

    private sealed record Reading(WrittenScore Score, Timeline Timeline, IReadOnlyList<OpenTempo> Open, IReadOnlyList<Fault> Warnings);

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var read = Read(settings);
        if (settings.Json) JsonOut.Write(terminal, ScoreReading.Of(read.Score, read.Timeline, read.Open, read.Warnings));
        else Show(read);
        return ExitCode.Good;
    }

    private static Reading Read(Settings settings)
    {
        if (OpenProject.IsPlan(settings.File))
        {
            var project = OpenProject.Open(settings.File, plan => Changed(plan, settings)).OnScore;
            return new Reading(project.Score, project.Timeline, project.OpenTempo, project.Warnings);
        }
        var score = ScoreFile.Read(settings.File);
        var built = TimelineBuilder.Build(score, new TimelineOptions
        {
            WithRepeats = !settings.WithoutRepeats,
            PlayedTempo = settings.TempoFile is { } file ? Tempo(file, settings.Begin) : null,
        });
        return new Reading(score, built.Timeline, built.Open, [.. score.Warnings, .. built.Warnings]);
    }

    /// <summary>What the prompt says wins over the plan.</summary>
    private static MixPlan Changed(MixPlan plan, Settings settings)
    {
        var here = new Place("--tempo");
        return plan with
        {
            WithRepeats = plan.WithRepeats && !settings.WithoutRepeats,
            TempoFrom = settings.TempoFile is { } file
                ? new WrittenTempoFile(Path.GetFullPath(file), settings.Begin is { } begin ? Position.Parse(begin) : null, here, new Place("--begin"))
                : plan.TempoFrom,
        };
    }

    private static TempoFile Tempo(string path, string? begin)
    {
        var file = TempoFile.Read(path);
        if (begin is null) return file;
        return file.BeginningAt(Position.Parse(begin), out var problem)
            ?? throw new InputException(new Fault("MX085", new Place(path), $"--begin {begin}: {problem}", "write a position that the file has"));
    }

    private void Show(Reading read)
    {
        var (score, timeline) = (read.Score, read.Timeline);
        terminal.Say(score.Title.Length > 0 ? score.Title : "(no title)");
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{score.Bars.Count} bars written, {timeline.Bars.Count} played, {timeline.End} quarters, {Tables.Minutes(timeline.Duration)} ({timeline.Duration.Value:0.000} s by the click)"));
        terminal.Say();

        var form = Tables.Words("", "");
        form.HideHeaders();
        form.AddRow("Played", Markup.Escape(string.Join(", ", ScoreForm.Runs(timeline))));
        if (timeline.Letters.Count > 0) form.AddRow("Letters", Markup.Escape(string.Join("  ", timeline.Letters.Select(letter => $"{letter.Name} {ScoreForm.Name(timeline, timeline.Bars[letter.Bar - 1])}"))));
        form.AddRow("Meters", Markup.Escape(ScoreForm.Cut([.. ScoreForm.Meters(timeline)])));
        form.AddRow("Tempo", Markup.Escape(ScoreForm.Cut([.. ScoreForm.Tempi(timeline)])));
        terminal.Out.Write(form);
        terminal.Out.Write(Parts(score));
        ShowOpen(read.Open);
        Warnings.Show(terminal, read.Warnings);
    }

    /// <summary>Who has dynamics: a line a part, with its groups, and its staves where it has several.</summary>
    private static Table Parts(WrittenScore score)
    {
        var hasGroups = score.Groups.Any(group => group.Name.Length > 0);
        var parts = hasGroups ? Tables.Words("Part", "Name", "Group", "Dynamics", "Hairpins", "Words", "Notes") : Tables.Words("Part", "Name", "Dynamics", "Hairpins", "Words", "Notes");
        foreach (var part in score.Parts)
        {
            var groups = string.Join(", ", score.Groups.Where(group => group.Name.Length > 0 && group.Parts.Contains(part.Id)).Select(group => group.Name));
            string[] row =
            [
                part.Id,
                part.Name.ReplaceLineEndings(" "),
                .. hasGroups ? (string[])[groups] : [],
                PerStaff(part, part.Dynamics.Select(mark => mark.Staff)),
                PerStaff(part, part.Hairpins.Select(hairpin => hairpin.Staff)),
                PerStaff(part, part.DynamicWords.Select(words => words.Staff)),
                $"{part.Notes.Count}",
            ];
            parts.AddRow([.. row.Select(Markup.Escape)]);
        }
        return parts;
    }

    /// <summary>How many, and for a part of several staves how many on each, from the top.</summary>
    private static string PerStaff(Part part, IEnumerable<int> staves)
    {
        var all = staves.ToList();
        if (all.Count == 0) return Tables.None;
        return part.Staves == 1 ? $"{all.Count}" : $"{all.Count} ({string.Join(" + ", Enumerable.Range(1, part.Staves).Select(staff => all.Count(one => one == staff)))})";
    }

    private void ShowOpen(IReadOnlyList<OpenTempo> open)
    {
        if (open.Count == 0) return;
        terminal.Say("Tempo left open: it stays as it is unless the plan's tempo: says more. Usual lengths, to copy and change:");
        var table = Tables.Words("Entry", "In the score");
        foreach (var one in open) table.AddRow(Markup.Escape(one.Entry), Markup.Escape(one.Words));
        terminal.Out.Write(table);
    }
}
