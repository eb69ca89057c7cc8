namespace Mixscore.Planning;

/// <summary>What a printed dynamic says about the level that holds after it.</summary>
internal static class DynamicWord
{
    /// <summary>The name that stands for niente in a draft; the level language writes it <c>off</c>.</summary>
    internal const string Nothing = "n";

    /// <summary>
    /// What files give for playing each dynamic, in percent of their forte: about the middle of what several notation
    /// programs write. From memory, unverified; only used where nothing is printed.
    /// </summary>
    private static readonly (string Name, double Percent)[] Played =
        [("ppp", 22), ("pp", 39), ("p", 54), ("mp", 70), ("mf", 86), ("f", 102), ("ff", 118), ("fff", 133)];

    private static readonly Dictionary<string, string> InFull = new()
    {
        ["pianissimo"] = "pp",
        ["piano"] = "p",
        ["mezzopiano"] = "mp",
        ["mezzoforte"] = "mf",
        ["forte"] = "f",
        ["fortissimo"] = "ff",
        ["niente"] = Nothing,
    };

    /// <summary>
    /// The dynamic of the table that holds after a printed mark. <c>fp</c> and its kin fall at once to their last letters,
    /// <c>pf</c> rises to them; marks beyond the table's ends are its ends. Common practice, no source.
    /// </summary>
    /// <returns>A name of the table, <see cref="Nothing"/> for niente, or <c>null</c> for an accent (<c>sf</c>,
    /// <c>sfz</c>, <c>fz</c>), which touches a note and sets no level.</returns>
    internal static string? Holds(string printed, DynamicsTable table)
    {
        var letters = printed.Trim().TrimEnd('.').ToLowerInvariant();
        if (letters is "n" or "niente") return Nothing;
        if (table[letters] is not null) return letters;
        if (letters.Length == 0) return null;
        if (letters.All(c => c == 'p')) return table.Names.FirstOrDefault();
        if (letters.All(c => c == 'f')) return table.Names.LastOrDefault();
        if (letters == "pf") return Holds("f", table);
        var soft = letters.Length - letters.AsSpan().TrimEnd('p').Length;
        var before = letters[..^soft].Replace("mf", "f", StringComparison.Ordinal);
        var falls = soft > 0 && soft < letters.Length && before.All(c => c is 's' or 'f' or 'z' or 'r') && before.Contains('f', StringComparison.Ordinal);
        return falls ? Holds(letters[^soft..], table) : null;
    }

    /// <summary>The dynamic that words ask for, such as <c>pp</c> in "sempre pp"; <c>null</c> where they name none.</summary>
    internal static string? Named(string words, DynamicsTable table)
    {
        var said = words.ToLowerInvariant().Replace("mezzo forte", "mezzoforte", StringComparison.Ordinal).Replace("mezzo piano", "mezzopiano", StringComparison.Ordinal);
        return said.Split([' ', ',', '.', '\u00A0', '(', ')'], StringSplitOptions.RemoveEmptyEntries).Reverse()
            .Select(word => InFull.GetValueOrDefault(word, word))
            .Where(word => word == Nothing || word.All(c => c is 'p' or 'f' or 'm'))
            .Select(word => Holds(word, table)).FirstOrDefault(word => word is not null);
    }

    /// <summary>The dynamic of the table that is played about so loud; <c>null</c> where the table has none of the usual ones.</summary>
    /// <param name="percent">In percent of forte.</param>
    /// <param name="table">The plan's dynamics.</param>
    internal static string? Nearest(double percent, DynamicsTable table) =>
        Played.Where(one => table[one.Name] is not null).OrderBy(one => Math.Abs(one.Percent - percent)).Select(one => one.Name).FirstOrDefault();

    /// <summary>One step louder or softer; at the table's end the same. From nothing the first step is the softest.</summary>
    internal static string Step(string name, bool louder, DynamicsTable table)
    {
        if (name == Nothing && !louder) return Nothing;
        string[] ladder = [Nothing, .. table.Names];
        var at = Array.IndexOf(ladder, name) + (louder ? 1 : -1);
        // Only a niente goes to nothing: a diminuendo from the softest stays there.
        return ladder[Math.Clamp(at, Math.Min(1, ladder.Length - 1), ladder.Length - 1)];
    }

    /// <summary>How loud a name is, to compare; nothing is below all.</summary>
    internal static double Loudness(string name, DynamicsTable table) => table[name]?.Value ?? double.NegativeInfinity;
}
