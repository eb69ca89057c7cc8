using System.ComponentModel;
using System.Globalization;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>fit PLAN</c>: the rides.</summary>
internal sealed class FitVerb(Terminal terminal) : AsyncCommand<FitVerb.Settings>
{
    internal sealed class Settings : HallSettings
    {
        [CommandOption("--explain <SOURCE@POSITION>")]
        [Description("Say why the ride is what it is there, such as north.voice@17:3.")]
        public string? Explain { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var project = OpenProject.OpenToMeasure(settings.Plan, settings.InHall);
        var rides = await RidesStep.RunAsync(project, terminal, cancellation, mustFit: true);
        if (settings.Explain is { } asked) Explain(project, rides, asked, settings.Json);
        else if (settings.Json) await terminal.Plain.WriteAsync(await File.ReadAllTextAsync(project.Rides, cancellation));
        else Show(project, rides, settings.Plan);
        Warnings.Show(terminal, [.. project.OnScore.Warnings, .. rides.Measured.Stems.Warnings]);
        return ExitCode.Good;
    }

    private void Explain(OpenProject project, RidesStep.Result rides, string asked, bool json)
    {
        var cut = asked.IndexOf('@', StringComparison.Ordinal);
        var (source, text) = cut < 0 ? (asked, "") : (asked[..cut], asked[(cut + 1)..]);
        if (rides.Sources.All(known => known.Name != source))
            throw Wrong($"there is no source \"{source}\"", $"write one of {string.Join(", ", rides.Sources.Select(known => known.Name))}, @ and a position, such as {rides.Sources[0].Name}@17:3");
        if (!Position.TryParse(text, out var position, out var problem) || !project.Timeline.TryResolve(position!, out _, out problem))
            throw Wrong($"\"{text}\" is not a position of the score: {problem}", $"write {source}@ and a bar, or a bar and beat, such as {source}@17:3");
        project.Timeline.TryResolve(position!, out var place, out _);
        var said = RideExplanation.Of(project.Timeline, project.Plan.Limits, rides.Sources, rides.Fitted, source, place);
        if (json) JsonOut.Write(terminal, new { source, position = project.Timeline.PositionAt(place).ToString(), because = said });
        else foreach (var sentence in said) terminal.Say(sentence);

        static InputException Wrong(string found, string remedy) => new(new Fault("MX193", new Place("--explain"), found, remedy));
    }

    private void Show(OpenProject project, RidesStep.Result rides, string plan)
    {
        var table = Tables.Plain("Source", "Vertices", "Lowest", "Highest", "Widened");
        foreach (var source in rides.Fitted)
        {
            var gains = source.Ride.Vertices.Where(vertex => vertex.Gain is not null).Select(vertex => vertex.Gain!.Value.Value).DefaultIfEmpty().ToArray();
            table.AddRow(Markup.Escape(source.Source), $"{source.Ride.Vertices.Count}", Gain(gains.Min()), Gain(gains.Max()), source.Widened.Count == 0 ? Tables.None : $"{source.Widened.Count}");
        }
        terminal.Out.Write(table);
        foreach (var stretch in rides.Fitted.SelectMany(source => source.Widened)) terminal.Say(stretch.Text);
        terminal.Say($"The rides are in {OpenProject.Shown(project.Rides)}. Next: mixscore check {plan}");
    }

    private static string Gain(double value) => string.Create(CultureInfo.InvariantCulture, $"{value:+0.0;-0.0;0.0} dB");
}
