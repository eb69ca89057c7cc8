using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// Follows a clock from outside by the points that it sends: at once from the first, then smoothed in place and rate, so
/// that jitter does not reach the faders. A single point far off is not believed; two that agree are a jump. When points
/// stay out it goes on at the last rate for a set time, then holds.
/// </summary>
public sealed class ChaseClock : RunClock
{
    // Our own figures. A jump is farther than any jitter that a network or an operating system gives.
    private const double FarOff = 0.12;
    private const double Alike = 0.06;
    private const double CandidateAge = 0.5;
    private const double Smoothing = 0.25;
    private const double Slowest = 0.4;
    private const double Fastest = 2.5;
    private static readonly TimeSpan Quiet = TimeSpan.FromMilliseconds(150);

    private readonly TimeSpan _carry;
    private ClockState _state;
    private bool _follows;
    private TimeSpan _last;
    private double _at;
    private double _rate = 1;
    private double _error2;
    private int _points;
    private int _relocations;
    private (TimeSpan When, double At)? _candidate;

    /// <summary>A clock that has heard nothing.</summary>
    /// <param name="carry">How long it goes on when nothing comes; <c>null</c> for 2 s.</param>
    public ChaseClock(TimeSpan? carry = null) => _carry = carry ?? TimeSpan.FromSeconds(2);

    internal override bool IsOutside => true;

    internal override void Start(Seconds at, Seconds countIn, TimeSpan now)
    {
        _follows = true;
        if (_state == ClockState.Waiting) _at = at.Value;
    }

    internal override void Stop(TimeSpan now)
    {
        (_at, _last) = (At(now), now);
        (_follows, _state, _candidate) = (false, ClockState.Waiting, null);
    }

    internal override void Take(ClockPoint point)
    {
        if (!_follows) return;
        switch (point.Signal)
        {
            case ClockSignal.Stopped:
                (_at, _last, _state, _candidate) = (At(point.When), point.When, ClockState.Stopped, null);
                break;
            case ClockSignal.Placed:
                if (Math.Abs(point.At.Value - At(point.When)) > FarOff) _relocations++;
                Lock(point, ClockState.Stopped);
                break;
            default:
                Move(point);
                break;
        }
    }

    internal override ClockReading Read(TimeSpan now)
    {
        if (_state is ClockState.Running or ClockState.Carrying)
        {
            var quiet = now - _last;
            if (quiet >= _carry) (_at, _last, _state) = (_at + (_rate * _carry.TotalSeconds), now, ClockState.Held);
            else _state = quiet > Quiet ? ClockState.Carrying : ClockState.Running;
        }
        return new ClockReading(new Seconds(At(now)), _state, _rate, new Seconds(Math.Sqrt(_error2)), _relocations);
    }

    private double At(TimeSpan now) =>
        _state is ClockState.Running or ClockState.Carrying ? _at + (_rate * Math.Min((now - _last).TotalSeconds, _carry.TotalSeconds)) : _at;

    private void Move(ClockPoint point)
    {
        var error = point.At.Value - At(point.When);
        if (_state is ClockState.Waiting or ClockState.Held or ClockState.Stopped)
        {
            if (_state != ClockState.Waiting && Math.Abs(error) > FarOff) _relocations++;
            Lock(point, ClockState.Running);
            return;
        }
        if (Math.Abs(error) > FarOff)
        {
            Doubt(point);
            return;
        }
        _candidate = null;
        var elapsed = Math.Max((point.When - _last).TotalSeconds, 1e-4);
        _points++;
        // Until enough points have come each weighs as much as all before it; from then on the newest fade in over a quarter second.
        var weight = Math.Max(1 - Math.Exp(-elapsed / Smoothing), Math.Min(0.5, 1.0 / _points));
        var steady = 1 - Math.Exp(-elapsed / Smoothing);
        _at = At(point.When) + (weight * error);
        _rate = Math.Clamp(_rate + (steady * steady / (2 - steady) * error / elapsed), Slowest, Fastest);
        _error2 += steady * ((error * error) - _error2);
        (_last, _state) = (point.When, ClockState.Running);
    }

    // One point far off may be a bad frame; a second one that goes on from it is where the sender now is.
    private void Doubt(ClockPoint point)
    {
        if (_candidate is { } before && (point.When - before.When).TotalSeconds is > 0 and < CandidateAge
            && Math.Abs(point.At.Value - before.At - (_rate * (point.When - before.When).TotalSeconds)) < Alike)
        {
            _relocations++;
            Lock(point, ClockState.Running);
            return;
        }
        _candidate = (point.When, point.At.Value);
    }

    private void Lock(ClockPoint point, ClockState state)
    {
        (_at, _last, _state, _candidate, _points, _error2) = (point.At.Value, point.When, state, null, 0, 0);
        if (state == ClockState.Stopped) _rate = 1;
    }
}
