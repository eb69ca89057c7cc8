namespace Mixscore.Score;

/// <summary>Finds the fraction with the smallest denominator in a narrow interval.</summary>
internal static class SimplestFraction
{
    /// <summary>The simplest fraction within a distance of a number, by continued fractions (derived from the Stern–Brocot tree).</summary>
    /// <param name="value">Finite, 0 or more, below 10⁹.</param>
    /// <param name="within">Above zero.</param>
    internal static Fraction Near(double value, double within)
    {
        var low = Math.Max(0, value - within);
        var high = value + within;
        // Walk down both bounds' continued fractions while they agree; the first term where they part ends it.
        long upper = 1, upperBefore = 0, lower = 0, lowerBefore = 1;
        while (true)
        {
            var whole = Math.Floor(low);
            var ends = whole == low || whole + 1 <= high;
            var term = (long)(whole == low ? whole : ends ? whole + 1 : whole);
            (upper, upperBefore) = (term * upper + upperBefore, upper);
            (lower, lowerBefore) = (term * lower + lowerBefore, lower);
            if (ends) return new Fraction(upper, lower);
            (low, high) = (1 / (high - whole), 1 / (low - whole));
        }
    }
}
