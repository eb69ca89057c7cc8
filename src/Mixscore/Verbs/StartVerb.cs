using System.ComponentModel;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>start FOLDER --score FILE</c>: a new project from a score.</summary>
internal sealed class StartVerb(Terminal terminal) : Command<StartVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FOLDER>")]
        [Description("Where the project will lie; made if it is not there.")]
        public required string Folder { get; init; }

        [CommandOption("--score <FILE>", isRequired: true)]
        [Description("The score: MusicXML or a Standard MIDI File. It is copied into the project.")]
        public required string Score { get; init; }

        [CommandOption("--source <SITE.NAME=PART>")]
        [Description("A source and the part that it plays, by id or name; as often as there are sources. Without any, a person is asked, or the part names decide.")]
        public string[] Sources { get; init; } = [];

        [CommandOption("--title <TEXT>")]
        [Description("The title, where the score's is not wanted.")]
        public string? Title { get; init; }
    }

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var score = ScoreFile.Read(settings.Score);
        var name = Path.GetFileNameWithoutExtension(settings.Score);
        var plan = Path.Combine(settings.Folder, name + ".mix.yaml");
        if (Directory.Exists(settings.Folder) && Directory.GetFiles(settings.Folder, "*.mix.yaml").FirstOrDefault() is { } there)
            throw new InputException(new Fault("MX003", new Place(there), "the folder holds a plan already", "name another folder; nothing was changed"));

        var sources = settings.Sources.Length > 0 ? NewSources.FromOptions(settings.Sources, score)
            : terminal.IsInteractive ? NewSources.Ask(terminal.Out, score)
            : NewSources.FromPartNames(score);
        var sites = sources.Select(source => source.Name[..source.Name.IndexOf('.', StringComparison.Ordinal)]).Distinct().Select(site => new NewSite(site, Seconds.Zero)).ToArray();
        var title = settings.Title ?? (score.Title.Length > 0 ? score.Title : name);
        var text = PlanTemplate.Write(title, Path.GetFileName(settings.Score), sites, sources);
        PlanReader.Parse(text, plan);   // what is laid down must read back

        Directory.CreateDirectory(Path.Combine(settings.Folder, "stems"));
        WholeFile.Write(Path.Combine(settings.Folder, Path.GetFileName(settings.Score)), File.ReadAllBytes(settings.Score));
        WholeFile.Write(Path.Combine(settings.Folder, PlanSchema.FileName), PlanSchema.Text);
        WholeFile.Write(plan, text);

        var table = Tables.Words("Source", "Part", "Strip", "Stem");
        foreach (var source in sources) table.AddRow(Markup.Escape(source.Name), Markup.Escape(source.Part ?? Tables.None), $"{source.Strip}", Markup.Escape(source.Stem));
        terminal.Out.Write(table);
        terminal.Say($"The plan is {OpenProject.Shown(Path.GetFullPath(plan))}. Put the stems where it names them and set the links' delays; then: mixscore draft {settings.Folder}");
        Warnings.Show(terminal, score.Warnings);
        return ExitCode.Good;
    }
}
