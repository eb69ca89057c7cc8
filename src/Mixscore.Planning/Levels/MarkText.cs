using System.Globalization;
using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>What stands after a mark's colon: a level or a move, how closely it is to be kept, and what it is to be clear by: <c>-3 &gt; 0 within 1 LU clear 4 LU</c>.</summary>
internal static class MarkText
{
    /// <summary>Reads one.</summary>
    /// <param name="text">As written.</param>
    /// <param name="dynamics">What the dynamics stand for.</param>
    /// <param name="start">The level at the beginning; meaningless where there is a problem.</param>
    /// <param name="end">The level at the end: the same object as <paramref name="start"/> unless the text is a move.</param>
    /// <param name="within">How far it may stray from this level; <c>null</c> where the source's own holds.</param>
    /// <param name="clear">How far it must stand over everything else; <c>null</c> where that is not asked.</param>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal static Problem? Read(string text, DynamicsTable dynamics, out Level start, out Level end, out Decibels? within, out Decibels? clear)
    {
        start = end = new Level.Off();
        within = null;
        return ClearText.Cut(text, out var level, out clear) ?? CutWithin(level, out level, out within) ?? LevelText.Read(level, dynamics, out start, out end);
    }

    /// <summary>As the language writes it.</summary>
    internal static string Write(Mark mark) => Write(mark.Start, mark.End, mark.Within, mark.Clear);

    /// <inheritdoc cref="Write(Mark)"/>
    internal static string Write(Level start, Level end, Decibels? within, Decibels? clear) =>
        LevelText.Write(start, end) + (within is { } by ? string.Create(CultureInfo.InvariantCulture, $" within {by.Value:0.####} LU") : "") + ClearText.Write(clear);

    private static Problem? CutWithin(string text, out string level, out Decibels? within)
    {
        (level, within) = (text, null);
        var words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        var at = Array.FindIndex(words, Math.Min(1, words.Length), word => word.Equals("within", StringComparison.OrdinalIgnoreCase));
        if (at < 0) return null;
        level = string.Join(' ', words[..at]);
        if (Measure.Within.Read(string.Join(' ', words[(at + 1)..]), out var by) is { } wrong) return wrong with { Remedy = "write how far it may stray from its level, such as \"-3 within 1 LU\"" };
        if (level.Equals("off", StringComparison.OrdinalIgnoreCase)) return new Problem(PlanFault.NotALevel, "a source that is off cannot stray", "write a level before within, such as \"-3 within 1 LU\"");
        within = Decibels.Of(by);
        return null;
    }
}
