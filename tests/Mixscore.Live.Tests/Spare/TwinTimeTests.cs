using CsCheck;

namespace Mixscore.Live.Tests.Spare;

/// <summary>Another machine's time on ours.</summary>
public class TwinTimeTests
{
    // Machines 40 parts in a million apart, messages up to 30 ms late: within 2 ms once the first second is over, for an hour.
    [Fact]
    public void Follows_the_quickest_messages() => Gen.Select(Gen.Int[0, 30], Gen.Int[0, 1_000_000], Gen.Bool).Sample((jitter, seed, isFast) =>
    {
        var (time, chance, worst) = (new TwinTime(), new Random(seed), 0.0);
        var rate = 1 + (isFast ? 40e-6 : -40e-6);
        for (var sent = 0.0; sent < 3600; sent += 0.5)
        {
            var now = 100 + (sent * rate);
            var ours = time.Ours(1, TimeSpan.FromSeconds(sent), TimeSpan.FromSeconds(now + (jitter * chance.NextDouble() * chance.NextDouble() / 1000)));
            if (sent > 20) worst = Math.Max(worst, Math.Abs(ours.TotalSeconds - now));
        }
        return worst < 0.002 + (jitter / 1000.0 * 0.35);
    }, iter: 100);

    [Fact]
    public void Begins_anew_with_another_run()
    {
        var time = new TwinTime();
        time.Ours(1, TimeSpan.FromSeconds(100), TimeSpan.FromSeconds(5));
        Assert.Equal(TimeSpan.FromSeconds(6), time.Ours(2, TimeSpan.FromSeconds(3), TimeSpan.FromSeconds(6)));
    }
}
