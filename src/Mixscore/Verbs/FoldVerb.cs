using System.ComponentModel;
using System.Globalization;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>fold PLAN LOG…</c>: what the hands knew, as proposals for the plan.</summary>
internal sealed class FoldVerb(Terminal terminal) : AsyncCommand<FoldVerb.Settings>
{
    internal sealed class Settings : HallSettings
    {
        [CommandArgument(1, "<LOG>")]
        [Description("Logs (*.log.jsonl) of one or several nights; a project folder for its newest.")]
        public required string[] Logs { get; init; }

        [CommandOption("--tolerance <DB>")]
        [Description("How near a fader must come to where the hand had it; what is nearer is no correction.")]
        [DefaultValue(1.0)]
        public double Tolerance { get; init; } = 1;

        [CommandOption("--accept-all")]
        [Description("Write every proposal into the plan without asking.")]
        public bool AcceptAll { get; init; }

        [CommandOption("--review")]
        [Description("Ask about each proposal; so it is anyway in a terminal.")]
        public bool Review { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var tolerance = ToleranceOption.Read(settings.Tolerance);
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var result = await FoldStep.RunAsync(project, settings.Logs, tolerance, terminal, cancellation);
        if (settings.Json) JsonOut.Write(terminal, FoldJson.Of(result));
        else Show(result);
        var asks = !settings.Json && !settings.AcceptAll && (settings.Review || terminal.IsInteractive);
        IReadOnlyList<FoldProposal> accepted = settings.AcceptAll ? result.Folded.Proposals : asks ? new FoldReview(terminal, project.Plan.Dynamics).Ask(result.Folded.Proposals) : [];
        if (accepted.Count > 0) FoldStep.Accept(project, accepted);
        if (!settings.Json && result.Folded.Proposals.Count > 0)
            terminal.Say(accepted.Count > 0 ? $"Accepted {accepted.Count} of {result.Folded.Proposals.Count}. Next: mixscore fit {settings.Plan}" : "Nothing was changed. --review asks about each, --accept-all takes all.");
        return ExitCode.Good;
    }

    private void Show(FoldStep.Result result)
    {
        foreach (var note in result.Notes) terminal.Error.WriteLine(note + ".");
        if (result.Folded.Proposals.Count == 0) terminal.Say("The plan does what the hands did: nothing to propose.");
        else
        {
            var table = Tables.Words("Source", "From", "To", "Was", "Becomes", "");
            foreach (var proposal in result.Folded.Proposals)
                table.AddRow(Markup.Escape(proposal.Source), $"{proposal.From}", $"{proposal.To}", Markup.Escape(proposal.Was), Markup.Escape(proposal.Becomes), Markup.Escape(proposal.Because));
            terminal.Out.Write(table);
        }
        foreach (var spread in result.Folded.Spreads)
            terminal.Say($"Nights differ: {spread.Source}, {spread.From} to {spread.To}: {string.Join(", ", spread.Nights.Select(night => $"{night.OverPlan.Value.ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture)} dB on {night.Night}"))}. Fold the one that was right alone.");
        foreach (var left in result.Folded.LeftOut) terminal.Say($"Left out: {left.Source}, {left.From} to {left.To}: {left.Reason}.");
    }
}
