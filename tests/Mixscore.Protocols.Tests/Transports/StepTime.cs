namespace Mixscore.Protocols.Tests.Transports;

/// <summary>A clock that moves when it is told to.</summary>
internal sealed class StepTime : TimeProvider
{
    private long _ticks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public TimeSpan Now => TimeSpan.FromTicks(_ticks);

    public override long GetTimestamp() => _ticks;

    public void Step(TimeSpan by) => _ticks += by.Ticks;
}
