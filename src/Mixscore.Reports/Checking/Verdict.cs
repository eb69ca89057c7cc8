using System.Globalization;

namespace Mixscore.Reports;

/// <summary>Good or short, and why, in words.</summary>
internal static class Verdict
{
    /// <summary>The part of a source's beats that must lie within its level. Our own figure, to be set by ear.</summary>
    internal const double EnoughBeats = 0.98;

    internal static (bool IsGood, IReadOnlyList<string> Because) Of(CheckedMix mix, IReadOnlyList<CheckedSource> sources, IReadOnlyList<BarClarity> clarity)
    {
        var shortfalls = new List<string>();
        if (mix.TruePeak is { } peak && peak > mix.TruePeakLimit)
            shortfalls.Add($"The mix peaks at {Dbtp(peak.Value)} dBTP, over the limit of {Dbtp(mix.TruePeakLimit.Value)} dBTP.");
        if (mix.Integrated is { } loudness && mix.LoudnessLimit is { } loudest && loudness.Value > loudest.Value)
            shortfalls.Add($"The mix is {Dbtp(loudness.Value)} LUFS loud, over the limit of {Dbtp(loudest.Value)} LUFS.");
        if (mix.Lowering is { } lowering)
            shortfalls.Add($"All sources {Number(lowering.Value)} dB lower would fit: a reference of {Dbtp(mix.Reference.Value - lowering.Value)} LUFS.");
        foreach (var source in sources.Where(source => !source.IsGood))
            shortfalls.Add($"{source.Source.Name} sits within its level on {source.BeatsWithin} of {source.BeatsActive} beats ({Share(source.BeatsWithin, source.BeatsActive)}); {Worst(source)}.");
        foreach (var lead in clarity.Where(bar => bar.IsShort).GroupBy(bar => bar.Lead))
        {
            var worst = lead.MinBy(bar => (bar.Over!.Value - bar.Asked!.Value).Value)!;
            shortfalls.Add($"{lead.Key} is not as clear as its marks ask in {lead.Count()} bar{(lead.Count() == 1 ? "" : "s")}; worst in bar {worst.Bar}, {Dbtp(worst.Over!.Value.Value)} LU over everything else where {Number(worst.Asked!.Value.Value)} is asked: wider levels for the others, or a higher one for it, would help.");
        }
        if (sources.All(source => source.BeatsActive == 0)) shortfalls.Add("No source is ever heard: the plan has no marks, or the stems are silent.");

        var (within, active) = (sources.Sum(source => source.BeatsWithin), sources.Sum(source => source.BeatsActive));
        var reasons = new List<string>(shortfalls);
        if (active > 0)
        {
            var who = sources.Count == 1 ? "The source sits" : $"All {sources.Count} sources together sit";
            reasons.Add($"{who} within their levels on {within} of {active} beats ({Share(within, active)}).".Replace("The source sits within their levels", "The source sits within its level"));
        }
        var widened = sources.Sum(source => source.Widened.Count);
        if (widened > 0) reasons.Add($"In {widened} stretch{(widened == 1 ? "" : "es")} nothing obeys the plan, and the band was widened by the least that helps; each is told below its source.");
        if (mix.TruePeak is { } under && under <= mix.TruePeakLimit) reasons.Add($"The mix peaks at {Dbtp(under.Value)} dBTP, under the limit of {Dbtp(mix.TruePeakLimit.Value)} dBTP.");
        return (shortfalls.Count == 0, reasons);
    }

    private static string Worst(CheckedSource source)
    {
        var worst = source.Bars.Where(bar => bar is { Within: false, Target: not null, Heard: not null }).MaxBy(bar => Math.Abs((bar.Heard!.Value - bar.Target!.Value).Value));
        if (worst is null) return "no whole bar lies outside, only single beats";
        var off = (worst.Heard!.Value - worst.Target!.Value).Value;
        return $"worst in bar {worst.Bar}, {Number(Math.Abs(off))} LU too {(off > 0 ? "loud" : "soft")}";
    }

    private static string Share(int part, int whole) => string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(1000.0 * part / whole) / 10:0.0} %");

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Dbtp(double value) => value.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture);
}
