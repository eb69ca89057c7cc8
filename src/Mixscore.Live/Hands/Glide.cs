using Mixscore.Loudness;

namespace Mixscore.Live;

/// <summary>A fader's way to where it should be, no faster than a limit.</summary>
internal static class Glide
{
    // So that a ride at the limit itself is not left behind by a rounding.
    private const double Slack = 1e-7;

    /// <summary>Where a fader is after a step.</summary>
    /// <param name="from">Where it is; <c>null</c> is off, which lies at the bottom.</param>
    /// <param name="to">Where it should be; <c>null</c> is off.</param>
    /// <param name="bottom">The bottom of the fader's range.</param>
    /// <param name="most">The longest way, in dB.</param>
    internal static Decibels? Step(Decibels? from, Decibels? to, Decibels bottom, double most)
    {
        var (start, goal) = (from ?? bottom, to ?? bottom);
        var way = goal.Value - start.Value;
        return Math.Abs(way) <= most + Slack ? to : Decibels.Of(start.Value + (Math.Sign(way) * most));
    }
}
