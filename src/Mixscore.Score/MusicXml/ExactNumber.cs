using System.Globalization;

namespace Mixscore.Score;

/// <summary>Decimal numbers as exact fractions.</summary>
internal static class ExactNumber
{
    private const int MostDigits = 15;

    /// <summary>Reads a whole or decimal number of up to 15 digits.</summary>
    internal static bool TryParse(string text, out Fraction value)
    {
        value = default;
        if (text.Length is 0 or > MostDigits + 2) return false;
        var point = text.IndexOf('.', StringComparison.Ordinal);
        var digits = point < 0 ? text : text.Remove(point, 1);
        if (!long.TryParse(digits, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number)) return false;
        long scale = 1;
        for (var i = point < 0 ? text.Length : point + 1; i < text.Length; i++) scale *= 10;
        value = new Fraction(number, scale);
        return true;
    }
}
