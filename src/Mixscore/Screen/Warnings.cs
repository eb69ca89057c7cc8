using Mixscore.Score;

namespace Mixscore.Screen;

/// <summary>Warnings, after the table that a verb prints.</summary>
internal static class Warnings
{
    internal static void Show(Terminal terminal, IReadOnlyCollection<Fault> warnings)
    {
        if (warnings.Count == 0) return;
        terminal.Error.WriteLine(warnings.Count == 1 ? "1 warning:" : $"{warnings.Count} warnings:");
        foreach (var warning in warnings) terminal.Error.WriteLine("  " + warning);
    }
}
