using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>Equivalent levels and the daily dose of noise.</summary>
public static class NoiseDose
{
    /// <summary>NIOSH publication 98-126 (1998): 85 dB(A) for eight hours is a whole dose, and 3 dB more halve the time.</summary>
    private const double Criterion = 85, HoursSeconds = 8 * 3600, Exchange = 3;

    /// <summary>The equivalent continuous level of stretches: the level of their mean power over their time.</summary>
    /// <param name="stretches">Level in dB(A), <c>null</c> for silence, and how long.</param>
    /// <returns><c>null</c> for silence, or no time.</returns>
    public static double? Equivalent(IEnumerable<(double? Level, Seconds Length)> stretches)
    {
        var (power, time) = (0.0, 0.0);
        foreach (var (level, length) in stretches)
        {
            power += length.Value * (level is { } decibels ? Math.Pow(10, decibels / 10) : 0);
            time += length.Value;
        }
        return power > 0 && time > 0 ? 10 * Math.Log10(power / time) : null;
    }

    /// <summary>How long a level may last in a day: 480 min / 2^((L − 85)/3).</summary>
    public static Seconds Allowed(double level) => new(HoursSeconds / Math.Pow(2, (level - Criterion) / Exchange));

    /// <summary>The part of a day's dose that stretches make up, 1 for the whole: the sum of time over allowed time.</summary>
    public static double Dose(IEnumerable<(double? Level, Seconds Length)> stretches) =>
        stretches.Sum(stretch => stretch.Level is { } level ? stretch.Length.Value / Allowed(level).Value : 0);

    /// <summary>The level that would make the same dose in eight hours: 10·log10(D) + 85.</summary>
    /// <param name="dose">1 for the whole; above 0.</param>
    public static double TimeWeightedAverage(double dose) => 10 * Math.Log10(dose) + Criterion;
}
