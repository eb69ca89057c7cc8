using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>A small move of one fader, down and up again, by which a person sees which one it is. It never goes above −20 dB, where
/// even a loud feed does no harm.</summary>
public static class StripNudge
{
    private const double Ceiling = -20;
    private const double High = -30;
    private const double Depth = 10;
    private const int StepsEachWay = 12;

    /// <summary>How long each value stands.</summary>
    public static TimeSpan Pace { get; } = TimeSpan.FromMilliseconds(50);

    /// <summary>The values to send, one after the other.</summary>
    /// <returns>The gains, each at most −20 dB as the wire rounds it; empty where the law has no gain so low.</returns>
    public static IReadOnlyList<Decibels> Of(FaderLaw law)
    {
        ArgumentNullException.ThrowIfNull(law);
        var top = Math.Min(High, law.Highest.Value);
        var bottom = Math.Max(top - Depth, law.Lowest.Value);
        if (law.Lowest.Value > High) (top, bottom) = (Ceiling, law.Lowest.Value);
        var way = Enumerable.Range(0, StepsEachWay + 1).Select(step => top + ((bottom - top) * step / StepsEachWay)).ToArray();
        return [.. way.Concat(way.Reverse().Skip(1)).Select(Decibels.Of).Where(gain => law.ToGain(law.Sent(gain)) is { Value: <= Ceiling + 1e-6 })];
    }
}
