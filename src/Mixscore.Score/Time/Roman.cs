namespace Mixscore.Score;

/// <summary>Roman numerals, for movements.</summary>
internal static class Roman
{
    private static readonly (int Value, string Text)[] Steps =
        [(100, "C"), (90, "XC"), (50, "L"), (40, "XL"), (10, "X"), (9, "IX"), (5, "V"), (4, "IV"), (1, "I")];

    internal static string Write(int number)
    {
        var text = "";
        foreach (var (value, step) in Steps)
            for (; number >= value; number -= value) text += step;
        return text;
    }

    /// <summary>The number, or <c>null</c> where the text is not a numeral in its proper form.</summary>
    internal static int? Read(string text)
    {
        var numeral = text.Trim().ToUpperInvariant();
        var rest = numeral;
        var number = 0;
        foreach (var (value, step) in Steps)
            while (rest.StartsWith(step, StringComparison.Ordinal))
            {
                number += value;
                rest = rest[step.Length..];
            }
        return rest.Length == 0 && number > 0 && Write(number) == numeral ? number : null;
    }
}
