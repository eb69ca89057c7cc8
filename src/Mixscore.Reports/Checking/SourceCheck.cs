using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// What one source is heard as and what its marks ask, through the same window. A step in the marks and the edge of a
/// rest have the same slope on both sides: marks count only where the source plays, as its sound does.
/// </summary>
public static class SourceCheck
{
    /// <summary>The K-weighted level of a mean square of 1: ITU-R BS.1770-5 Annex 1, eq. 2.</summary>
    private const double KOffset = -0.691;

    /// <summary>What comes in, a value each 10 ms hop of the stem; all arrays as long as the stem has hops.</summary>
    public sealed record Input
    {
        /// <summary>The K-weighted mean square of the stem.</summary>
        public required double[] StemEnergy { get; init; }

        /// <summary>The K-weighted mean square of the stem through its ride; 0 where that is off.</summary>
        public required double[] HeardEnergy { get; init; }

        /// <summary>Whether the source plays: neither resting nor dropped out.</summary>
        public required bool[] Plays { get; init; }

        /// <summary>The power over the reference that the marks ask; 0 for off.</summary>
        public required double[] Asked { get; init; }

        /// <summary>The lowest power that the marks allow: below <see cref="Asked"/> only where a step's move runs.</summary>
        public required double[] AskedLow { get; init; }

        /// <summary>The highest power that the marks allow: above <see cref="Asked"/> only where a step's move runs.</summary>
        public required double[] AskedHigh { get; init; }

        /// <summary>0 LU, in LUFS.</summary>
        public required double Reference { get; init; }

        /// <summary>How far the source may stray, in LU; above 0.</summary>
        public required double[] Within { get; init; }

        /// <summary>The link's delay.</summary>
        public required Seconds Delay { get; init; }

        /// <summary>The window over which loudness is taken.</summary>
        public Seconds Window { get; init; } = Source.UsualWindow;
    }

    /// <summary>The traces of one source.</summary>
    public static SourceTrace Trace(Input input)
    {
        var n = input.StemEnergy.Length;
        var active = new bool[n];
        for (var i = 0; i < n; i++) active[i] = input.Plays[i] && input.Asked[i] > 0;

        var hops = 2 * Math.Max(1, (int)Math.Round(input.Window.Value / SourceTrace.Hop.Value / 2));
        var toReference = KOffset - input.Reference;
        return new SourceTrace
        {
            Delay = input.Delay,
            Active = active,
            Stem = Levels(CentredWindow.Mean(input.StemEnergy, hops), toReference, input.Plays),
            Heard = Levels(CentredWindow.Mean(input.HeardEnergy, hops), toReference, input.Plays),
            Target = Levels(CentredWindow.Mean(Where(input.Plays, input.Asked), hops), 0, active),
            Low = Levels(CentredWindow.Mean(Where(input.Plays, Strayed(input.AskedLow, input.Within, -1)), hops), 0, active),
            High = Levels(CentredWindow.Mean(Where(input.Plays, Strayed(input.AskedHigh, input.Within, +1)), hops), 0, active),
        };
    }

    /// <summary>One stretch of the piece: the means over its active time, and whether the source sits within its level there.</summary>
    /// <param name="trace">The traces.</param>
    /// <param name="from">By the click.</param>
    /// <param name="to">By the click.</param>
    /// <returns><c>null</c>s where the source rests or is off; and the part of the stretch that is active, 0 to 1.</returns>
    public static (double? Target, double? Heard, bool? Within, double ActivePart) Stretch(SourceTrace trace, Seconds from, Seconds to)
    {
        int first = trace.HopAt(from), end = trace.HopAt(to), active = 0, heardCount = 0;
        double target = 0, heard = 0, low = 0, high = 0;
        var lowIsOpen = false;
        for (var i = first; i < end; i++)
        {
            if (!trace.Active[i] || trace.Target[i] is not { } t || trace.High[i] is not { } h) continue;
            active++;
            target += t;
            high += h;
            if (trace.Low[i] is { } l) low += l;
            else lowIsOpen = true;   // a fade from or to off: any lower level is right
            if (trace.Heard[i] is not { } level) continue;
            heard += level;
            heardCount++;
        }
        if (active == 0) return (null, null, null, 0);
        var part = active / (double)Math.Max(1, end - first);
        if (heardCount == 0) return (target / active, null, lowIsOpen, part);
        var mean = heard / heardCount;
        return (target / active, mean, mean <= high / active + Slack && (lowIsOpen || mean >= low / active - Slack), part);
    }

    /// <summary>Rounding must not decide: figures are shown to a hundredth of a LU.</summary>
    private const double Slack = 0.005;

    private static double[] Strayed(double[] power, double[] within, int sign) => [.. power.Select((p, i) => p * Math.Pow(10, sign * within[i] / 10))];

    private static double[] Where(bool[] plays, double[] power)
    {
        var kept = new double[power.Length];
        for (var i = 0; i < kept.Length; i++) kept[i] = plays[i] ? power[i] : 0;
        return kept;
    }

    private static double?[] Levels(double[] power, double add, bool[] where)
    {
        var levels = new double?[power.Length];
        for (var i = 0; i < levels.Length; i++)
            if (where[i] && power[i] > 0) levels[i] = 10 * Math.Log10(power[i]) + add;
        return levels;
    }
}
