using Mixscore.Loudness;
using Mixscore.Planning;

namespace Mixscore.Page;

/// <summary>Who moves a source's fader.</summary>
public enum Holder
{
    /// <summary>The plan.</summary>
    Planned,

    /// <summary>The engineer.</summary>
    InHand,

    /// <summary>The plan again, on the way back to it.</summary>
    Returning,
}

/// <summary>Where one source's fader is: with the plan and the engineer's offset, in hand, or on its way back. Never faster than its limit.</summary>
internal sealed class SourceHand(Limits limits)
{
    private Decibels? _hand;

    /// <summary>Where it is; <c>null</c> is off.</summary>
    internal Decibels? Gain { get; private set; }

    /// <summary>Where the plan and the offset want it.</summary>
    internal Decibels? Planned { get; private set; }

    /// <summary>Who moves it.</summary>
    internal Holder Holder { get; private set; }

    /// <summary>What the engineer adds to the plan.</summary>
    internal Decibels Offset { get; set; }

    internal void Take(Decibels? gain) => (Holder, _hand) = (Holder.InHand, gain is { } db ? Clamped(db.Value) : null);

    internal void HandBack() => Holder = Holder == Holder.InHand ? Holder.Returning : Holder;

    /// <summary>A step.</summary>
    /// <param name="ride">The plan's gain now; <c>null</c> is off.</param>
    /// <param name="seconds">Since the last step.</param>
    /// <param name="leaps">Whether the plan may leap: the piece was begun or went elsewhere while nothing sounded.</param>
    internal void Step(Decibels? ride, double seconds, bool leaps)
    {
        Planned = ride is { } gain ? Clamped(gain.Value + Offset.Value) : null;
        var wanted = Holder == Holder.InHand ? _hand : Planned;
        var most = (Holder == Holder.InHand ? limits.Hand : limits.Speed) * seconds;
        if (leaps && Holder == Holder.Planned) Gain = Planned;
        else if (Holder == Holder.Planned && Gain is not null && Offset == default) Gain = Follow(wanted, Math.Max(most, limits.Hand * seconds));
        else Gain = Follow(wanted, most);
        if (Holder == Holder.Returning && Gain == Planned) Holder = Holder.Planned;
    }

    private Decibels? Follow(Decibels? wanted, double most)
    {
        var (from, to) = (Gain ?? limits.Bottom, wanted ?? limits.Bottom);
        var way = to.Value - from.Value;
        return Math.Abs(way) <= most + 1e-7 ? wanted : Decibels.Of(from.Value + Math.Sign(way) * most);
    }

    private Decibels Clamped(double value) => Decibels.Of(Math.Clamp(value, limits.Bottom.Value, limits.Top.Value));
}
