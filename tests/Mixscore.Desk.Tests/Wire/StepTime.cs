namespace Mixscore.Desk.Tests.Wire;

/// <summary>A clock that moves when it is told to, and its timers with it.</summary>
internal sealed class StepTime : TimeProvider
{
    private readonly List<Due> _timers = [];
    private long _ticks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public TimeSpan Now => TimeSpan.FromTicks(_ticks);

    public override long GetTimestamp() => _ticks;

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        var timer = new Due(this, callback, state);
        _timers.Add(timer);
        timer.Change(dueTime, period);
        return timer;
    }

    public void Step(TimeSpan by)
    {
        _ticks += by.Ticks;
        foreach (var timer in _timers) timer.Run();
    }

    private sealed class Due(StepTime time, TimerCallback callback, object? state) : ITimer
    {
        private long? _at;

        public bool Change(TimeSpan dueTime, TimeSpan period)
        {
            _at = dueTime < TimeSpan.Zero ? null : time._ticks + dueTime.Ticks;
            return true;
        }

        public void Run()
        {
            if (_at is not { } at || at > time._ticks) return;
            _at = null;
            callback(state);
        }

        public void Dispose() => _at = null;

        public ValueTask DisposeAsync()
        {
            Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
