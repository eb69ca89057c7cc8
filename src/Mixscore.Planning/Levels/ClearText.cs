using System.Text.RegularExpressions;
using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>The end of a mark that asks to be heard clear of everything else: <c>-3 clear 4 LU</c>.</summary>
internal static partial class ClearText
{
    /// <summary>Cuts it off a mark's text.</summary>
    /// <param name="text">As written.</param>
    /// <param name="level">What is left: the level.</param>
    /// <param name="clear">How far; <c>null</c> where nothing is asked.</param>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal static Problem? Cut(string text, out string level, out Decibels? clear)
    {
        (level, clear) = (text, null);
        var form = Form().Match(text);
        if (!form.Success) return null;
        level = form.Groups["level"].Value.Trim();
        if (Measure.By.Read(form.Groups["by"].Value, out var by) is { } wrong) return wrong with { Remedy = "write how far over everything else, such as \"-3 clear 4 LU\"" };
        if (level.Equals("off", StringComparison.OrdinalIgnoreCase)) return new Problem(PlanFault.NotALevel, "a source that is off cannot be clear", "write a level before clear, such as \"-3 clear 4 LU\"");
        clear = Decibels.Of(by);
        return null;
    }

    /// <summary>As the language writes it, with a blank before it; nothing where nothing is asked.</summary>
    internal static string Write(Decibels? clear) => clear is { } by ? FormattableString.Invariant($" clear {by.Value:0.####} LU") : "";

    [GeneratedRegex(@"^(?<level>.*?)\s+clear\b(?<by>.*)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Form();
}
