using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>draft PLAN</c>: first marks from the score's dynamics and hairpins.</summary>
internal sealed class DraftVerb(Terminal terminal) : Command<PlanSettings>
{
    public override int Execute(CommandContext context, PlanSettings settings, CancellationToken cancellation)
    {
        var project = OpenProject.Open(settings.Plan);
        var draft = FirstMarks.Of(project.OnScore);
        var editor = PlanEditor.Open(project.Plan.File, project.Timeline);
        FirstMarks.Write(draft, editor);
        WholeFile.Write(project.Plan.File, editor.Text);

        if (settings.Json) JsonOut.Write(terminal, new { sources = draft.Select(source => new { source = source.Source, marks = source.Marks.Count, leftOut = source.LeftOut, touches = source.Touches }) });
        else Show(project, draft);
        return ExitCode.Good;
    }

    private void Show(OpenProject project, IReadOnlyList<DraftedSource> draft)
    {
        var table = Tables.Words("Source", "Drafted", "");
        foreach (var source in draft)
            table.AddRow(Markup.Escape(source.Source), source.Marks.Count == 0 ? "nothing" : $"{source.Marks.Count} marks", Markup.Escape(source.LeftOut ?? (source.Touches > 0 ? $"{source.Touches} accents are touches, not levels: left to the player" : "")));
        terminal.Out.Write(table);
        terminal.Say(draft.Any(source => source.Marks.Count > 0)
            ? $"The marks stand in {OpenProject.Shown(project.Plan.File)}, each with \"# {FirstMarks.Comment}\" behind it: a start, to be set by ear."
            : "Nothing was drafted: what a person wrote stays.");
        Warnings.Show(terminal, project.OnScore.Warnings);
    }
}
