using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>The clock of this machine: exact, and begun by the engineer.</summary>
public sealed class OwnClick : RunClock
{
    private TimeSpan _from;
    private double _at;
    private ClockState _state;

    internal override bool IsOutside => false;

    internal override void Start(Seconds at, Seconds countIn, TimeSpan now) =>
        (_at, _from, _state) = (at.Value - countIn.Value, now, ClockState.Running);

    internal override void Stop(TimeSpan now) => (_at, _state) = (At(now), ClockState.Stopped);

    internal override void Take(ClockPoint point)
    {
        // Nobody else says where it is.
    }

    internal override ClockReading Read(TimeSpan now) => new(new Seconds(At(now)), _state, 1, Seconds.Zero, 0);

    private double At(TimeSpan now) => _state == ClockState.Running ? _at + (now - _from).TotalSeconds : _at;
}
