using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>
/// A motor-fader desk that exists only here: takes moves, reports them late and in its own coarse places, lets faders be held by
/// hand, shows levels. Pure: time is passed in, values go in and out. Not safe for several threads.
/// </summary>
public sealed class PracticeDesk
{
    private readonly DeskMap _map;
    private readonly PracticeHabits _habits;
    private readonly SortedDictionary<int, Strip> _strips = [];
    private readonly Queue<(TimeSpan Due, StripValue Value)> _echoes = new();
    private TimeSpan _nextMeters;

    /// <summary>A desk whose faders are shut.</summary>
    public PracticeDesk(DeskMap map, PracticeHabits habits)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(habits.Places, 2, nameof(habits));
        (_map, _habits) = (map, habits);
    }

    /// <summary>Moves that the motors obeyed.</summary>
    public long Moved { get; private set; }

    /// <summary>Moves that a hand on the fader withstood.</summary>
    public long Withstood { get; private set; }

    /// <summary>Where a fader stands; <c>null</c> when it is shut.</summary>
    public Decibels? GainOf(int strip) => _map.Fader.Law.ToGain(At(strip).Value);

    /// <summary>Whether a hand is on a fader.</summary>
    public bool IsHeld(int strip) => At(strip).IsHeld;

    /// <summary>The strips that were ever touched, in order.</summary>
    public IEnumerable<int> Strips => _strips.Keys;

    /// <summary>Takes what came over the wire.</summary>
    public void Take(StripValue value, TimeSpan now)
    {
        var strip = At(value.Strip);
        if (value.Part == StripPart.Mute)
        {
            strip.IsMuted = _map.Mute is { } mute && Math.Abs(value.Value - mute.Off) < Math.Abs(value.Value - mute.On);
            _echoes.Enqueue((now + _habits.Late, value));
        }
        else if (value.Part == StripPart.Fader && strip.IsHeld) Withstood++;
        else if (value.Part == StripPart.Fader)
        {
            Moved++;
            strip.Value = Coarse(value.Value);
            _echoes.Enqueue((now + _habits.Late, value with { Value = strip.Value }));
        }
    }

    /// <summary>A hand takes hold of a fader and moves it, straight in dB.</summary>
    /// <param name="strip">From 1.</param>
    /// <param name="gain">Where to; <c>null</c> shuts it.</param>
    /// <param name="over">How long that takes; zero for at once.</param>
    /// <param name="now">Now.</param>
    public void Grab(int strip, Decibels? gain, TimeSpan over, TimeSpan now)
    {
        var held = At(strip);
        held.IsHeld = true;
        held.Hand = new Stroke(GainOf(strip), gain, now, over);
    }

    /// <summary>The hand lets go; the fader stays until the next move.</summary>
    public void Release(int strip) => (At(strip).IsHeld, At(strip).Hand) = (false, null);

    /// <summary>What a strip is fed with, from now on.</summary>
    public void Feed(int strip, Decibels? level) => At(strip).Fed = level;

    /// <summary>What is due: reports, the hand's strokes, meters.</summary>
    /// <param name="now">Now.</param>
    /// <param name="outgoing">Takes the values; those already there stay.</param>
    public void Tick(TimeSpan now, List<StripValue> outgoing)
    {
        while (_echoes.TryPeek(out var echo) && echo.Due <= now) outgoing.Add(_echoes.Dequeue().Value);
        foreach (var (number, strip) in _strips)
        {
            if (strip.Hand is not { } stroke) continue;
            var value = Coarse(_map.Fader.Law.ToValue(stroke.At(now, _map.Fader.Law.Lowest)));
            if (value != strip.Value) outgoing.Add(new StripValue(number, StripPart.Fader, strip.Value = value));
            if (now >= stroke.From + stroke.Over) strip.Hand = null;
        }
        if (_map.Meter is not { } meter || now < _nextMeters) return;
        _nextMeters = now + _habits.MetersEvery;
        foreach (var (number, strip) in _strips)
        {
            Decibels? heard = strip.IsMuted || strip.Fed is not { } fed || GainOf(number) is not { } gain ? null : fed + gain;
            outgoing.Add(new StripValue(number, StripPart.Meter, meter.Law.Sent(heard)));
        }
    }

    private Strip At(int strip)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(strip, 1);
        if (!_strips.TryGetValue(strip, out var known)) _strips.Add(strip, known = new Strip { Value = _map.Fader.Law.Off, Fed = _habits.Fed });
        return known;
    }

    // A fader's own converter has so many places over its travel, from shut to fully open; shut is one of them.
    private double Coarse(double value)
    {
        var law = _map.Fader.Law;
        var (off, top) = (law.Off, law.ToValue(law.Highest));
        var place = Math.Round(Math.Clamp((value - off) / (top - off), 0, 1) * (_habits.Places - 1));
        return law.Quantise(off + ((top - off) * place / (_habits.Places - 1)));
    }

    private sealed class Strip
    {
        public double Value { get; set; }

        public bool IsHeld { get; set; }

        public bool IsMuted { get; set; }

        public Decibels? Fed { get; set; }

        public Stroke? Hand { get; set; }
    }

    private sealed record Stroke(Decibels? Start, Decibels? Goal, TimeSpan From, TimeSpan Over)
    {
        public Decibels? At(TimeSpan now, Decibels lowest)
        {
            if (Over <= TimeSpan.Zero || now >= From + Over) return Goal;
            var part = (now - From) / Over;
            var (start, goal) = (Start ?? lowest, Goal ?? lowest);
            return start + ((goal - start) * part);
        }
    }
}
