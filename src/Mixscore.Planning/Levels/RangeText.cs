using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A position or a range of two, as the key of a mark or a tempo entry: <c>17:3</c>, <c>9..13</c>, <c>C..D</c>.</summary>
internal static class RangeText
{
    /// <summary>Reads one.</summary>
    /// <returns>What is wrong, or <c>null</c>.</returns>
    internal static Problem? Read(string text, out Position from, out Position? to)
    {
        (from, to) = (Position.End, null);
        var cut = text.IndexOf("..", StringComparison.Ordinal);
        var head = cut < 0 ? text : text[..cut];
        if (cut < 0 && Dashed(text) is { } dashed)
            return new Problem(PlanFault.NotAPosition, $"\"{text}\" is not a position", $"write a range with two dots, such as {dashed}");
        if (!Position.TryParse(head, out var start, out var problem)) return Wrong(text, problem!);
        from = start!;
        if (cut < 0) return null;
        if (!Position.TryParse(text[(cut + 2)..], out to, out problem)) return Wrong(text, problem!);
        return null;
    }

    /// <summary>How a mark's place is called in a sentence: <c>bar 32</c>, <c>bars 9..13</c>, <c>letter C</c>.</summary>
    internal static string Spoken(string text)
    {
        var trimmed = text.Trim();
        var isRange = trimmed.Contains("..", StringComparison.Ordinal);
        if (trimmed.Length > 0 && char.IsAsciiDigit(trimmed[0])) return (isRange ? "bars " : "bar ") + trimmed;
        return isRange || trimmed is "end" ? trimmed : "letter " + trimmed;
    }

    private static Problem Wrong(string text, string why) => new(PlanFault.NotAPosition, $"\"{text}\" is not a position: {why}",
        "write a bar (17), a bar and beat (17:3), a letter (C), a range (9..13) or end");

    /// <summary>The range that someone meant who wrote <c>9-13</c> or <c>9–13</c>.</summary>
    private static string? Dashed(string text)
    {
        var parts = text.Split('-', '\u2013', '\u2014', '\u2026');
        return parts.Length == 2 && parts.All(part => part.Trim().Length > 0 && char.IsAsciiDigit(part.Trim()[0]))
            ? $"{parts[0].Trim()}..{parts[1].Trim()}" : null;
    }
}
