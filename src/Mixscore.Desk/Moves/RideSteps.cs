using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>
/// Turns one ride into steps of its fader. A step leads the ride by as much as it will lag before the next one, so a
/// move of n dB takes n / 0.4 steps; at vertices the value is exact, and the fader is off exactly where the ride is.
/// </summary>
internal sealed class RideSteps
{
    /// <summary>How far the fader may be from the ride, in dB. Common practice, no source: well under what an ear tells apart.</summary>
    public const double Aim = 0.2;

    /// <summary>How far it may be where that saves a step between two ticks.</summary>
    public const double Most = 0.24;

    /// <summary>From here on the numbers of the wire are so coarse that steps go from one to the next.</summary>
    private const double Coarse = 0.02;

    private const double Microsecond = 1e-6;

    /// <summary>What floating point may take from a whole number of microseconds.</summary>
    private const double Slack = 1e-3;

    private readonly WireRide _ride;
    private readonly Source _source;
    private readonly FaderLaw _law;
    private readonly double? _tick;
    private readonly List<DeskMove> _moves = [];
    private double _value = double.NaN;

    private RideSteps(WireRide ride, Source source, FaderLaw law, double? tick) => (_ride, _source, _law, _tick) = (ride, source, law, tick);

    /// <summary>The steps of one ride, in order; the first at 0.</summary>
    /// <param name="ride">The ride on the wire.</param>
    /// <param name="source">Whose it is.</param>
    /// <param name="law">The fader's law.</param>
    /// <param name="tick">Steps between vertices fall on multiples of this many seconds where they can; <c>null</c> for steps when they are due.</param>
    public static List<DeskMove> Of(WireRide ride, Source source, FaderLaw law, double? tick)
    {
        var steps = new RideSteps(ride, source, law, tick);
        steps.Run();
        return steps._moves;
    }

    private double Held => _law.ToGain(_value)?.Value ?? _law.Lowest.Value;

    private void Run()
    {
        var vertices = _ride.Ride.Vertices;
        Set(0, vertices[0].Gain);
        for (var i = 0; i + 1 < vertices.Count; i++)
        {
            Set(_ride.VertexTimes[i], vertices[i].Gain);
            if (_ride.LegOf(i) is not { } leg) continue;
            if (leg.Opens) Set(leg.From, Decibels.Of(leg.Start), opens: true);
            if (leg.Start != leg.End) Walk(i, leg);
            Set(leg.To, leg.Closes ? null : Decibels.Of(leg.End));
        }
        Set(_ride.VertexTimes[^1], vertices[^1].Gain);
    }

    private void Walk(int segment, Leg leg)
    {
        var way = Math.Sign(leg.End - leg.Start);
        var at = _moves.Count > 0 ? Math.Max(leg.From, _moves[^1].At.Value) : leg.From;
        while (true)
        {
            var held = Held;
            var step = _law.CoarsestBetween(held, held + 2 * Aim * way);
            if (step >= Coarse)
            {
                if (NextLevel(held, step, leg.End) is not { } level) return;
                at = _ride.TimeOf(segment, (held + level) / 2);
                if (at >= leg.To) return;
                Set(at, Decibels.Of(level));
                continue;
            }
            if ((leg.End - held) * way <= Aim) return;
            var due = _ride.TimeOf(segment, held + way * Aim);
            if (due >= leg.To) return;
            at = _tick is { } tick ? OnTick(leg, at, due, tick) : due;
            var gain = LeadAt(leg, way, at);
            if (_law.Sent(Decibels.Of(gain)) == _value) return;
            Set(at, Decibels.Of(gain));
        }
    }

    /// <summary>The tick at which to step at the latest when the error reaches the aim at <paramref name="due"/>.</summary>
    private double OnTick(Leg leg, double last, double due, double tick)
    {
        var before = Math.Floor(due / tick + 1e-9) * tick;
        if (before > last + Microsecond) return before;
        var after = Math.Min(before + tick, leg.To);
        return Math.Abs(Gain(leg, after) - Held) <= Most ? after : due;
    }

    /// <summary>The gain that stays nearest to the ride for longest from an instant on.</summary>
    private double LeadAt(Leg leg, int way, double at)
    {
        var now = Gain(leg, at);
        var lead = Aim;
        if (_tick is { } tick)
        {
            var next = Math.Min((Math.Floor(at / tick + 1e-9) + 1) * tick, leg.To);
            var run = Math.Abs(Gain(leg, next) - now);
            if (run is > 2 * Aim and <= 2 * Most) lead = run / 2;
        }
        var gain = now + way * lead;
        return (leg.End - gain) * way <= 0 ? leg.End : gain;
    }

    private double Gain(Leg leg, double at) =>
        at >= leg.To ? leg.End : Math.Clamp(_ride.GainAt(at), Math.Min(leg.Start, leg.End), Math.Max(leg.Start, leg.End));

    /// <summary>The gain of the next number, or of one so many further that half the way is still within the aim; <c>null</c> at the end.</summary>
    private double? NextLevel(double held, double step, double end)
    {
        var last = _law.Sent(Decibels.Of(end));
        var left = Math.Abs(last - _value);
        for (var skip = Math.Min(left, Math.Max(1, Math.Floor(2 * Aim / step))); skip > 0; skip = Math.Floor(skip / 2))
        {
            if (_law.ToGain(_value + skip * Math.Sign(last - _value)) is { } gain && (skip == 1 || Math.Abs(gain.Value - held) <= 2 * Aim)) return gain.Value;
        }
        return null;
    }

    private void Set(double at, Decibels? gain, bool opens = false)
    {
        var value = _law.Sent(gain);
        if (value == _value) return;
        var said = _law.ToGain(value);
        // Off is never late and never ends early; all else goes to the nearest microsecond.
        var micros = (opens, said) switch
        {
            (true, _) => Math.Floor(at * 1e6 + Slack) + 1,
            (_, null) => Math.Floor(at * 1e6 + Slack),
            _ => Math.Round(at * 1e6),
        };
        while (_moves.Count > 0 && _moves[^1].At.Value >= micros / 1e6)
        {
            if (_moves[^1].Gain is null)
            {
                micros = Math.Round(_moves[^1].At.Value * 1e6) + 1;
                break;
            }
            _moves.RemoveAt(_moves.Count - 1);
        }
        _value = value;
        if (_moves.Count == 0 || _moves[^1].Value != value) _moves.Add(new DeskMove(new Seconds(micros / 1e6), _source, said, value));
    }
}
