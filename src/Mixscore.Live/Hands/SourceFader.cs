using Mixscore.Loudness;
using Mixscore.Planning;

namespace Mixscore.Live;

/// <summary>
/// What one source's fader should do: follow the plan with the engineer's offset, follow a hand, come back to the plan
/// over so many beats, or fade while its link is gone. Never faster than the limit that applies.
/// </summary>
internal sealed class SourceFader(Limits limits)
{
    private Decibels? _hand;
    private double _error;
    private TimeSpan _returnsFrom;
    private TimeSpan _returnsFor;
    private TimeSpan? _backOver;
    private Decibels? _dropTo;

    /// <summary>Where the fader is; <c>null</c> is off.</summary>
    internal Decibels? Gain { get; private set; }

    /// <summary>Where the plan and the offset want it.</summary>
    internal Decibels? Planned { get; private set; }

    /// <summary>Who moves it.</summary>
    internal Holder Holder { get; private set; }

    /// <summary>Which desk's fader the hand is on; <c>null</c> for a hand that is on none.</summary>
    internal int? HandDesk { get; private set; }

    /// <summary>What the engineer adds to the plan.</summary>
    internal Decibels Offset { get; set; }

    /// <summary>Why its feed is gone; <c>null</c> while it is there.</summary>
    internal DropCause? Gone { get; private set; }

    /// <summary>Whether its feed is gone.</summary>
    internal bool IsDropped => Gone is not null;

    /// <summary>Where the hand wants it.</summary>
    internal Decibels? Hand => _hand;

    /// <summary>How fast it may move, in dB a second.</summary>
    internal double Speed => Holder == Holder.InHand ? limits.Hand : limits.Speed;

    /// <summary>Takes up a fader where it stands, before the run moves it.</summary>
    internal void Place(Decibels? gain) => Gain = gain;

    /// <summary>The engineer takes it, or goes on moving it.</summary>
    internal void Take(Decibels? gain, int? desk) => (Holder, _hand, HandDesk, _backOver) = (Holder.InHand, gain, desk, null);

    /// <summary>The engineer hands it back. A hand that it has not caught up with is caught up with first.</summary>
    internal bool HandBack(TimeSpan over)
    {
        if (Holder != Holder.InHand) return false;
        _backOver = over;
        return true;
    }

    /// <summary>The feed is gone.</summary>
    /// <param name="cause">Why.</param>
    /// <param name="to">Where it fades to where its site's faders fade; <c>null</c> is off.</param>
    internal void Drop(DropCause cause, Decibels? to) => (Gone, _dropTo) = (cause, to);

    /// <summary>The feed is back.</summary>
    internal void Up(TimeSpan over, TimeSpan now)
    {
        Gone = null;
        if (Holder != Holder.InHand) Return(over, now);
    }

    /// <summary>Takes up a state that a log ends in.</summary>
    internal void Restore(Holder holder, Decibels? gain, Decibels offset)
    {
        (Gain, Offset) = (gain, offset);
        if (holder == Holder.InHand) Take(gain, null);
    }

    /// <summary>What another run needs to go on with it.</summary>
    internal TwinSource Twin(TimeSpan now)
    {
        var left = Holder == Holder.Returning ? TimeSpan.FromTicks(Math.Max(0, (_returnsFrom + _returnsFor - now).Ticks)) : TimeSpan.Zero;
        var error = left > TimeSpan.Zero ? _error * (left / _returnsFor) : 0;
        return new TwinSource(Holder, HandDesk, Gone, Gain, _hand, Offset, _dropTo, Decibels.Of(error), left, _backOver);
    }

    /// <summary>Goes on as another run's fader does.</summary>
    internal void Follow(in TwinSource twin, int desks, TimeSpan now)
    {
        (Holder, _hand, Gain, Offset) = (twin.Holder, twin.Hand, twin.Gain, twin.Offset);
        HandDesk = twin.HandDesk < desks ? twin.HandDesk : null;
        (Gone, _dropTo, _backOver) = (twin.Gone, twin.DropTo, twin.BackOver);
        (_error, _returnsFrom, _returnsFor) = (twin.Error.Value, now, twin.Left);
    }

    /// <summary>A tick.</summary>
    /// <param name="ride">The plan's gain now; <c>null</c> is off.</param>
    /// <param name="fades">Whether its site's faders fade when the link is gone.</param>
    /// <param name="now">The run's time.</param>
    /// <param name="seconds">Since the last tick.</param>
    /// <returns>True when it has come back to the plan with this tick.</returns>
    internal bool Step(Decibels? ride, bool fades, TimeSpan now, double seconds)
    {
        Planned = ride is { } gain ? Decibels.Of(Math.Clamp(gain.Value + Offset.Value, limits.Bottom.Value, limits.Top.Value)) : null;
        if (_backOver is { } over && Gain == _hand) Return(over, now);
        if (Holder == Holder.InHand)
        {
            Gain = Glide.Step(Gain, _hand, limits.Bottom, limits.Hand * seconds);
            return false;
        }
        var wanted = Wanted(fades, now);
        Gain = Glide.Step(Gain, wanted, limits.Bottom, limits.Speed * seconds);
        if (Holder != Holder.Returning || now < _returnsFrom + _returnsFor || Gain != Planned) return false;
        Holder = Holder.Planned;
        return true;
    }

    private Decibels? Wanted(bool fades, TimeSpan now)
    {
        // Where the site's faders are to stand still while it is gone, this one wants to be where it is.
        if (IsDropped) return !fades ? Gain : Planned is { } planned && _dropTo is { } floor ? Decibels.Min(planned, floor) : null;
        if (Holder != Holder.Returning) return Planned;
        var left = _returnsFor > TimeSpan.Zero ? 1 - ((now - _returnsFrom) / _returnsFor) : 0;
        if (left <= 0) return Planned;
        return Decibels.Of(Math.Clamp((Planned ?? limits.Bottom).Value + (_error * left), limits.Bottom.Value, limits.Top.Value));
    }

    private void Return(TimeSpan over, TimeSpan now)
    {
        (Holder, HandDesk, _backOver) = (Holder.Returning, null, null);
        (_returnsFrom, _returnsFor) = (now, over);
        _error = (Gain ?? limits.Bottom).Value - (Planned ?? limits.Bottom).Value;
    }
}
