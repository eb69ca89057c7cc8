using Mixscore.Planning;
using Mixscore.Score;
using Spectre.Console;

namespace Mixscore.Verbs;

/// <summary>The sources of a new project: from options, from a person, or from the names of the parts.</summary>
internal static class NewSources
{
    internal static IReadOnlyList<NewSource> FromOptions(IEnumerable<string> options, WrittenScore score)
    {
        var faults = new List<Fault>();
        var sources = new List<NewSource>();
        foreach (var option in options)
        {
            var equals = option.IndexOf('=', StringComparison.Ordinal);
            var name = (equals < 0 ? option : option[..equals]).Trim();
            var wanted = equals < 0 ? null : option[(equals + 1)..].Trim();
            var part = wanted is null ? null : score.Parts.FirstOrDefault(part => part.Id == wanted || part.Name.Equals(wanted, StringComparison.OrdinalIgnoreCase));
            if (!IsName(name)) faults.Add(new Fault("MX004", new Place("--source"), $"\"{name}\" is not a source", "write a site, a dot and a name, such as north.voice"));
            else if (sources.Any(source => source.Name == name)) faults.Add(new Fault("MX005", new Place("--source"), $"{name} is given twice", "name every source once"));
            else if (wanted is not null && part is null) faults.Add(new Fault("MX006", new Place("--source"), $"the score has no part \"{wanted}\"", "it has " + string.Join(", ", score.Parts.Select(p => $"{p.Id} ({p.Name})"))));
            else sources.Add(New(name, part, sources.Count + 1));
        }
        if (faults.Count > 0) throw new InputException(faults);
        return sources;
    }

    /// <summary>"North horn" becomes <c>north.horn</c>; a part of one word stands alone on a site of its name.</summary>
    internal static IReadOnlyList<NewSource> FromPartNames(WrittenScore score)
    {
        var sources = new List<NewSource>();
        foreach (var part in score.Parts)
        {
            var name = Suggest(part);
            for (var n = 2; sources.Any(source => source.Name == name); n++) name = Suggest(part) + n;
            sources.Add(New(name, part, sources.Count + 1));
        }
        return sources;
    }

    internal static IReadOnlyList<NewSource> Ask(IAnsiConsole console, WrittenScore score)
    {
        console.WriteLine("For each part: the source that it is, as site.name; empty where no feed plays it.");
        var sources = new List<NewSource>();
        foreach (var part in score.Parts)
        {
            var name = console.Prompt(new TextPrompt<string>($"{Markup.Escape(part.Name.Length > 0 ? part.Name : part.Id)}:")
                .DefaultValue(Suggest(part)).AllowEmpty()
                .Validate(text => text.Length == 0 || (IsName(text) && sources.All(source => source.Name != text)), "a site, a dot and a name that is not taken, such as north.voice"));
            if (name.Length > 0) sources.Add(New(name, part, sources.Count + 1));
        }
        return sources.Count > 0 ? sources : FromPartNames(score);
    }

    private static NewSource New(string name, Part? part, int strip) => new(name, RoleOf(name), $"stems/{name.Replace('.', '-')}.wav", strip, part?.Id);

    private static string Suggest(Part part)
    {
        var words = string.Concat((part.Name.Length > 0 ? part.Name : part.Id).ToLowerInvariant().Select(c => char.IsLetterOrDigit(c) ? c : ' ')).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return words.Length switch
        {
            0 => part.Id.ToLowerInvariant() + ".instrument",
            1 => words[0] + ".instrument",
            _ => words[0] + "." + string.Join('-', words[1..]),
        };
    }

    private static bool IsName(string name)
    {
        var halves = name.Split('.');
        return halves.Length == 2 && halves.All(half => half.Length > 0 && half.All(c => char.IsLetterOrDigit(c) || c is '-' or '_'));
    }

    private static Role RoleOf(string name)
    {
        var feed = name[(name.IndexOf('.', StringComparison.Ordinal) + 1)..];
        return feed.Contains("voice", StringComparison.Ordinal) || feed.Contains("singer", StringComparison.Ordinal) ? Role.Voice
            : feed.Contains("engine", StringComparison.Ordinal) || feed.Contains("ambient", StringComparison.Ordinal) || feed.Contains("motor", StringComparison.Ordinal) ? Role.Ambient
            : Role.Instrument;
    }
}
