using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// How loud the mix will be at the listening place, from a measurement there: a forecast, and no more. Without a measured
/// calibration there is none.
/// </summary>
/// <param name="Equivalent">LAeq over the piece, in dB(A).</param>
/// <param name="Quarter">The greatest LAeq over any 15 minutes, silence around the piece counted; in dB(A).</param>
/// <param name="Dose">The part of a day's dose that one hearing makes up, 1 for the whole (NIOSH 98-126).</param>
/// <param name="Calibrated">What it rests on, in words.</param>
public sealed record ExposureForecast(double Equivalent, double Quarter, double Dose, string Calibrated)
{
    /// <summary>What must be said with every figure.</summary>
    public const string Caution = "A forecast from one measurement, not a measurement of the concert: the hall, the audience and the weather change it. Local law and a licensed person decide.";

    /// <summary>What must be said of headphones, with and without figures.</summary>
    public const string Headphones = "Players hear click and call on headphones for as long as the piece lasts: let each set the volume before the music starts, no louder than needed over the engine.";

    /// <summary>15 minutes.</summary>
    private const double QuarterSeconds = 900;

    /// <summary>The forecast, or <c>null</c> without a calibration, or where the stretch that was measured is silent.</summary>
    public static ExposureForecast? Of(PlanOnScore plan, AWeightedTrack mix)
    {
        if (plan.Plan.Hall.Calibration is not { } calibration || plan.Calibrated is not { } stretch) return null;
        var tempo = plan.Timeline.Tempo;
        var reference = mix.Mean(tempo.SecondsAt(stretch.From), tempo.SecondsAt(stretch.To));
        if (!(reference > 0)) return null;
        var steps = mix.Power.Select(power => (Level: power > 0 ? calibration.Level + 10 * Math.Log10(power / reference) : (double?)null, mix.Step)).ToArray();
        if (NoiseDose.Equivalent(steps) is not { } equivalent) return null;
        return new ExposureForecast(equivalent, GreatestQuarter(steps), NoiseDose.Dose(Seconds(steps)),
            string.Create(CultureInfo.InvariantCulture, $"bars {calibration.From} to {calibration.To} gave {calibration.Level:0.#} dB(A) at the listening place"));
    }

    /// <summary>Levels second by second, as a dosimeter takes them.</summary>
    private static IEnumerable<(double? Level, Seconds Length)> Seconds((double? Level, Seconds Length)[] steps)
    {
        var perSecond = Math.Max(1, (int)Math.Round(1 / steps[0].Length.Value));
        return steps.Chunk(perSecond).Select(chunk => (NoiseDose.Equivalent(chunk), new Seconds(chunk.Sum(step => step.Length.Value))));
    }

    private static double GreatestQuarter((double? Level, Seconds Length)[] steps)
    {
        var energy = steps.Select(step => step.Length.Value * (step.Level is { } level ? Math.Pow(10, level / 10) : 0)).ToArray();
        var (length, sum, greatest) = (Math.Max(1, (int)Math.Round(QuarterSeconds / steps[0].Length.Value)), 0.0, 0.0);
        for (var i = 0; i < energy.Length; i++)
        {
            sum += energy[i] - (i >= length ? energy[i - length] : 0);
            greatest = Math.Max(greatest, sum);
        }
        return 10 * Math.Log10(greatest / QuarterSeconds);
    }
}
