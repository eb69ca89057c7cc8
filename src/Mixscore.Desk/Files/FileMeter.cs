using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>A meter as a Standard MIDI File can say it: a number of beats over a power of two.</summary>
/// <param name="Beats">1 to 255.</param>
/// <param name="Power">The lower number as a power of two: 2 for quarters, 3 for eighths.</param>
internal readonly record struct FileMeter(int Beats, int Power)
{
    private const int FinestPower = 6;   // sixty-fourths

    /// <summary>MIDI clocks, 24 to the quarter, between two clicks: dotted beats in compound meters (Standard MIDI Files 1.0, meta event 58).</summary>
    public int ClocksAClick => Math.Max(1, 96 >> Power) * (Power >= 3 && Beats > 3 && Beats % 3 == 0 ? 3 : 1);

    /// <summary>The meter of a bar as it is played. A bar that is shorter or longer than its meter gets one of its own length, so that bar lines stay in place.</summary>
    /// <param name="bar">The bar.</param>
    /// <param name="note">What the file cannot say, in words; <c>null</c> where it says all.</param>
    public static FileMeter Of(PlayedBar bar, out string? note)
    {
        note = null;
        var meter = bar.Meter;
        var even = meter.Beats.Count > 0 && meter.Beats.All(beat => beat == meter.Beats[0]);
        if (even && bar.Length == meter.Length && PowerOf(meter.Beats[0]) is { } power && meter.Beats.Count <= 255)
        {
            if (meter.Text.Contains('+', StringComparison.Ordinal)) note = $"bar {bar}: {meter} is written as {new FileMeter(meter.Beats.Count, power)}, without its groups";
            return new FileMeter(meter.Beats.Count, power);
        }
        var said = Nearest(bar.Length, PowerOf(meter.Unit) ?? 2, out var exact);
        if (!exact) note = $"bar {bar}: {meter} over {bar.Length} quarters is written as {said}, the nearest that a Standard MIDI File can say";
        else if (bar.Length == meter.Length) note = $"bar {bar}: {meter} is written as {said}";
        return said;
    }

    /// <summary>Such as <c>6/8</c>.</summary>
    public override string ToString() => $"{Beats}/{1 << Power}";

    private static int? PowerOf(Quarters beat)
    {
        for (var power = 0; power <= FinestPower; power++)
            if (beat == new Quarters(4, 1 << power)) return power;
        return null;
    }

    /// <summary>The meter with the coarsest beats, from a power on, that is as long, or the nearest in sixty-fourths.</summary>
    private static FileMeter Nearest(Quarters length, int from, out bool exact)
    {
        for (var power = from; power <= FinestPower; power++)
        {
            var beats = length.Value * new Fraction(1 << power, 4);
            exact = beats.Denominator == 1 && beats.Numerator is >= 1 and <= 255;
            if (exact) return new FileMeter((int)beats.Numerator, power);
        }
        exact = false;
        var power2 = FinestPower;
        while (power2 > 0 && length.ToDouble() * (1 << power2) / 4 > 255) power2--;
        return new FileMeter(Math.Clamp((int)Math.Round(length.ToDouble() * (1 << power2) / 4), 1, 255), power2);
    }
}
