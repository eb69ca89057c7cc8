using System.Globalization;
using System.Text.RegularExpressions;
using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>
/// The level language: <c>off</c>, <c>-18</c>, <c>-18 LU</c>, <c>mf</c>, <c>-18 &gt; -6</c>, <c>pp &gt; f</c>, <c>under A by 8</c>,
/// <c>over A, B by 3</c>.
/// </summary>
internal static partial class LevelText
{
    private static readonly string[] Touches = ["sf", "sfz", "fz", "sffz", "rf", "rfz", "sfp", "fp", "sfpp", "sfzp", "pf"];

    /// <summary>Reads one.</summary>
    /// <param name="text">As written.</param>
    /// <param name="dynamics">What the dynamics stand for.</param>
    /// <param name="start">The level at the beginning; meaningless where there is a problem.</param>
    /// <param name="end">The level at the end: the same object as <paramref name="start"/> unless the text is a move.</param>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal static Problem? Read(string text, DynamicsTable dynamics, out Level start, out Level end)
    {
        start = end = new Level.Off();
        var cut = text.IndexOf('>', StringComparison.Ordinal);
        if (cut < 0)
        {
            var problem = Leans(text) ? ReadLean(text, out start) : ReadOne(text, dynamics, out start);
            end = start;
            return problem;
        }
        var (head, tail) = (text[..cut].Trim(), text[(cut + 1)..].Trim());
        if (Leans(head) || Leans(tail))
            return new Problem(PlanFault.NotALevel, $"\"{text}\" moves to or from a level that leans on a source",
                "write a move between two levels, and under or over in a mark of its own");
        if (head.Length == 0 || tail.Length == 0 || tail.Contains('>', StringComparison.Ordinal))
            return new Problem(PlanFault.NotALevel, $"\"{text}\" is not a move", "write one level, > and one level, such as \"-18 > -6\"");
        return ReadOne(head, dynamics, out start) ?? ReadOne(tail, dynamics, out end);
    }

    /// <summary>A level or a move as the language writes it.</summary>
    internal static string Write(Level start, Level end) => start.Equals(end) ? Write(start) : $"{Write(start)} > {Write(end)}";

    private static string Write(Level level) => level switch
    {
        Level.At { Dynamic: { } dynamic } => dynamic,
        Level.At at => Number(at.OverReference.Value),
        Level.Lean lean => $"{(lean.By.Value > 0 ? "over" : "under")} {string.Join(", ", lean.Sources)} by {Number(Math.Abs(lean.By.Value))}",
        _ => "off",
    };

    private static string Number(double value) => value.ToString("0.############", CultureInfo.InvariantCulture);

    private static bool Leans(string text) => LeanWord().IsMatch(text);

    private static Problem? ReadOne(string text, DynamicsTable dynamics, out Level level)
    {
        level = new Level.Off();
        var word = text.Trim();
        if (word.Equals("off", StringComparison.OrdinalIgnoreCase)) return null;
        if (dynamics[word] is { } meant)
        {
            level = new Level.At(meant, word);
            return null;
        }
        var problem = Measure.Level.Read(word, out var value);
        if (problem is null)
        {
            level = new Level.At(Decibels.Of(value));
            return null;
        }
        if (problem.Code == PlanFault.OutOfRange) return problem;
        return new Problem(PlanFault.NotALevel, word.Length == 0 ? "a level is missing" : $"\"{word}\" is not a level",
            Remedy(word, dynamics));
    }

    private static string Remedy(string word, DynamicsTable dynamics)
    {
        if (word.EndsWith("LUFS", StringComparison.OrdinalIgnoreCase))
            return "levels are LU over the plan's reference, such as \"-20 LU\"";
        if (word.EndsWith("dB", StringComparison.OrdinalIgnoreCase))
            return "levels are LU over the plan's reference, not gains in dB; write \"-20 LU\"";
        if (word.Contains(',', StringComparison.Ordinal)) return "write a point for a decimal comma, such as \"-20.5 LU\"";
        if (Touches.Contains(word)) return "that is an accent and not a level; write the dynamic that holds, such as mf";
        var isWord = word.Length > 0 && word.All(char.IsAsciiLetter);
        if (!isWord) return "write a number and LU, such as \"-20 LU\"";
        string[] known = [.. dynamics.Names, "off"];
        return Nearest.To(word, known) is { } near ? $"perhaps you mean \"{near}\""
            : $"write a number and LU, such as \"-20 LU\", or one of {string.Join(", ", known)}";
    }

    private static Problem? ReadLean(string text, out Level level)
    {
        level = new Level.Off();
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var middle = Array.FindIndex(words, Math.Min(2, words.Length), word => word.Equals("by", StringComparison.OrdinalIgnoreCase));
        if (middle < 0 || middle == words.Length - 1)
            return new Problem(PlanFault.NotALevel, $"\"{text.Trim()}\" does not say what it leans on and by how much",
                "write under or over, a source, by and LU, such as \"under north.horn by 8\"");
        var names = string.Join(' ', words[1..middle]).Split(',').Select(name => name.Trim()).ToArray();
        if (Array.Find(names, name => name.Length == 0 || name.Any(char.IsWhiteSpace)) is { } odd)
            return new Problem(PlanFault.NotALevel, $"\"{odd}\" is not a source's name",
                "write a comma between two sources, such as \"under north.horn, north.voice by 6\"");
        if (names.Distinct(StringComparer.Ordinal).Count() < names.Length)
            return new Problem(PlanFault.NotALevel, $"\"{text.Trim()}\" names a source twice", "name each source once");
        if (Measure.By.Read(string.Join(' ', words[(middle + 1)..]), out var by) is { } problem)
            return problem.Code == PlanFault.OutOfRange ? problem : new Problem(PlanFault.NotALevel, problem.Found, problem.Remedy);
        var isOver = words[0].Equals("over", StringComparison.OrdinalIgnoreCase);
        level = new Level.Lean(names, Decibels.Of(isOver || by == 0 ? by : -by));
        return null;
    }

    [GeneratedRegex(@"^\s*(?:under|over)(?:\s|$)", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex LeanWord();
}
