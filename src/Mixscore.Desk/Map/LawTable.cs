using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>A line of a fader law's table.</summary>
/// <param name="Gain">Wanted; <c>null</c> is off.</param>
/// <param name="Value">The number that is sent.</param>
/// <param name="Back">The gain that this number stands for.</param>
/// <param name="Step">How far the next number of the wire is, in dB; <c>null</c> for off.</param>
/// <param name="IsPoint">Whether the map gives this point.</param>
public sealed record LawRow(Decibels? Gain, double Value, Decibels? Back, Decibels? Step, bool IsPoint);

/// <summary>What a fader law comes to on the wire.</summary>
public sealed class LawTable
{
    private const double Every = 5;

    /// <summary>The table of a law: its points, every 5 dB between, and off, loudest first.</summary>
    public LawTable(FaderLaw law)
    {
        ArgumentNullException.ThrowIfNull(law);
        var gains = law.Points.Select(point => point.Gain.Value).ToHashSet();
        for (var gain = Math.Ceiling(law.Lowest.Value / Every) * Every; gain <= law.Highest.Value; gain += Every) gains.Add(gain);
        Rows = [.. gains.OrderDescending().Select(gain => Row(law, Decibels.Of(gain))), new LawRow(null, law.Off, law.ToGain(law.Off), null, true)];
        Coarsest = Rows.Max(row => row.Step?.Value ?? 0) is var widest ? Decibels.Of(widest) : default;
        Finest = Decibels.Of(Rows.Where(row => row.Step is not null).Min(row => row.Step!.Value.Value));
        Places = law.Number == WireNumber.Whole ? (long)Math.Abs(law.ToValue(law.Highest) - law.ToValue(law.Lowest)) + 1 : null;
    }

    /// <summary>The rows, loudest first, off last.</summary>
    public IReadOnlyList<LawRow> Rows { get; }

    /// <summary>The widest step between neighbouring numbers of the wire.</summary>
    public Decibels Coarsest { get; }

    /// <summary>The narrowest step at the rows.</summary>
    public Decibels Finest { get; }

    /// <summary>The most that rounding for the wire can miss a gain by: half the widest step.</summary>
    public Decibels WorstRounding => Coarsest * 0.5;

    /// <summary>How many numbers the law uses; <c>null</c> for real numbers.</summary>
    public long? Places { get; }

    private static LawRow Row(FaderLaw law, Decibels gain) =>
        new(gain, law.Sent(gain), law.ToGain(law.Sent(gain)), law.StepAt(gain), law.Points.Any(point => point.Gain == gain));
}
