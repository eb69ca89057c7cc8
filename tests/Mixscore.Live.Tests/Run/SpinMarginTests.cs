using CsCheck;

namespace Mixscore.Live.Tests.Run;

public sealed class SpinMarginTests
{
    [Fact]
    public void Woken_in_time_it_stays_at_the_least()
    {
        var margin = new SpinMargin();
        for (var tick = 0; tick < 1000; tick++) margin.Woken(60_000);
        Assert.Equal(SpinMargin.Least, margin.Nanoseconds);
    }

    [Fact]
    public void Woken_late_once_it_asks_earlier_at_once_and_is_calm_again_within_half_a_minute()
    {
        var margin = new SpinMargin();
        margin.Woken(1_000_000);
        Assert.Equal(1_250_000, margin.Nanoseconds);
        for (var tick = 0; tick < 30 * 50; tick++) margin.Woken(60_000);
        Assert.InRange(margin.Nanoseconds, SpinMargin.Least, SpinMargin.Least + 20_000);
    }

    // Law: whatever the machine does, a second of it included, the thread spins for no more than a tenth of its tick.
    [Fact]
    public void It_never_spins_longer_than_a_tenth_of_a_tick() =>
        Gen.Long[0, 2_000_000_000].Array.Sample(lateness =>
        {
            var margin = new SpinMargin();
            foreach (var late in lateness)
            {
                margin.Woken(late);
                Assert.InRange(margin.Nanoseconds, SpinMargin.Least, RunSettings.Tick.Ticks * 100 / 10);
            }
        });
}
