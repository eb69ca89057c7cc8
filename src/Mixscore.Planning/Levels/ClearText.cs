using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>The end of a mark that asks to be heard clear of everything else: <c>-3 clear 4 LU</c>.</summary>
internal static class ClearText
{
    /// <summary>Cuts it off a mark's text.</summary>
    /// <param name="text">As written.</param>
    /// <param name="level">What is left: the level.</param>
    /// <param name="clear">How far; <c>null</c> where nothing is asked.</param>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal static Problem? Cut(string text, out string level, out Decibels? clear)
    {
        (level, clear) = (text, null);
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var at = Array.FindIndex(words, Math.Min(1, words.Length), word => word.Equals("clear", StringComparison.OrdinalIgnoreCase));
        if (at < 0) return null;
        level = string.Join(' ', words[..at]);
        if (Measure.By.Read(string.Join(' ', words[(at + 1)..]), out var by) is { } wrong) return wrong with { Remedy = "write how far over everything else, such as \"-3 clear 4 LU\"" };
        if (level.Equals("off", StringComparison.OrdinalIgnoreCase)) return new Problem(PlanFault.NotALevel, "a source that is off cannot be clear", "write a level before clear, such as \"-3 clear 4 LU\"");
        clear = Decibels.Of(by);
        return null;
    }

    /// <summary>As the language writes it, with a blank before it; nothing where nothing is asked.</summary>
    internal static string Write(Decibels? clear) => clear is { } by ? FormattableString.Invariant($" clear {by.Value:0.####} LU") : "";
}
