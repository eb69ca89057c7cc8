using Mixscore.Loudness;

namespace Mixscore.Live.Tests.Run;

/// <summary>Tests that nothing else may run beside: what a thread is said to have taken is not exact while others let memory be collected.</summary>
[CollectionDefinition(nameof(Alone), DisableParallelization = true)]
public sealed class Alone;

[Collection(nameof(Alone))]
public class SoakTests
{
    // A collection that another thread brings about may leave what was set aside for this one on its account, 8 KiB at most; the
    // smallest object in every tick would be 24 bytes times thousands of them.
    private const long Quantum = 8192;

    // 96 sources on two desks: once warm, a tick takes no memory, also while hands move and the plan does.
    [Fact]
    public void A_tick_takes_no_memory()
    {
        var (run, _) = Big(sources: 96, desks: 2, bars: 64);
        run.Post(RunEvent.Arm);
        run.Post(RunEvent.Start());
        for (var i = 0; i < 500; i++) Next(i);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 500; i < 3000; i++) Next(i);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, Quantum);

        void Next(int i)
        {
            if (i % 50 == 0) run.Post(RunEvent.Take(i / 50 % 96, Decibels.Of(-i % 40)));
            if (i % 70 == 0) run.Post(RunEvent.Back(i / 70 % 96));
            run.Tick(At(i));
        }
    }

    // Eight hours of music in virtual time: the last fader is where its ride is, and nothing has drifted or grown.
    [Fact]
    public void Eight_hours_leave_no_trace()
    {
        var sources = Environment.GetEnvironmentVariable("MIXSCORE_LONG") is null ? 6 : 96;
        var (run, sent) = Big(sources, desks: 1, bars: 8 * 3600 / 2);
        run.Post(RunEvent.Arm);
        run.Post(RunEvent.Start());
        const int Ticks = 8 * 3600 * 50;
        var at = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i <= Ticks; i++)
        {
            run.Tick(At(i));
            if (i == 1000) at = GC.GetAllocatedBytesForCurrentThread();
        }
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - at, 0, Quantum);
        Assert.Equal(8 * 3600, run.View.Look().At.Value, 6);
        Assert.Equal(0, run.Refused);
        Assert.True(sent() > Ticks);
        for (var s = 0; s < sources; s++) Assert.Equal(run.Plan.Sources[s].Ride.Vertices[^1].Gain!.Value.Value, run.View.Look().Sources[s].Gain!.Value.Value, 0.1);
    }

    private static TimeSpan At(int tick) => TimeSpan.FromMilliseconds(20L * tick);

    private static (LiveRun Run, Func<long> Sent) Big(int sources, int desks, int bars)
    {
        var timeline = Pieces.Bars(bars);
        var plan = Pieces.Plan(timeline, [.. Enumerable.Range(0, sources).Select(i => (Pieces.Source($"s{i % 8}.f{i}", i + 1, delayMs: i % 60),
            Pieces.Ride($"s{i % 8}.f{i}", [.. Enumerable.Range(0, (bars / 4) + 1).Select(v => (v * 16, (double?)(-20 + (((v + i) % 3) * 6))))])))]);
        var count = 0L;
        var run = new LiveRun(plan, new OwnClick(), [.. Enumerable.Range(0, desks).Select(_ => new RunDesk(Pieces.Osc, [.. Enumerable.Range(1, sources)], values =>
        {
            count += values.Length;
            return true;
        }))], new RunSettings { CountInBars = 0 });
        return (run, () => count);
    }
}
