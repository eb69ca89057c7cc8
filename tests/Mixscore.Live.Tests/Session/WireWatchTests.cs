using System.Reactive.Concurrency;

namespace Mixscore.Live.Tests.Session;

// In virtual time: a look each 100 ms.
public sealed class WireWatchTests
{
    private readonly HistoricalScheduler _time = new();
    private readonly List<bool> _told = [];
    private bool _isReady = true;
    private int _opened = 1;

    [Fact]
    public void It_tells_at_once_and_then_only_what_changes()
    {
        using var watching = Watch();
        Assert.Equal([true], _told);
        _time.AdvanceBy(TimeSpan.FromMinutes(10));
        Assert.Equal([true], _told);
        _isReady = false;
        _time.AdvanceBy(WireWatch.Pace);
        Assert.Equal([true, false], _told);
        (_isReady, _opened) = (true, 2);
        _time.AdvanceBy(WireWatch.Pace);
        Assert.Equal([true, false, false, true], _told);
    }

    [Fact]
    public void A_wire_that_was_closed_and_opened_between_two_looks_was_closed_too()
    {
        using var watching = Watch();
        _opened = 2;
        _time.AdvanceBy(WireWatch.Pace);
        Assert.Equal([true, false, true], _told);
    }

    [Fact]
    public void Nobody_looks_any_more_once_it_is_let_go()
    {
        var watching = Watch();
        watching.Dispose();
        _isReady = false;
        _time.AdvanceBy(TimeSpan.FromSeconds(1));
        Assert.Equal([true], _told);
    }

    private IDisposable Watch() => WireWatch.Of(() => _isReady, () => _opened, _time).Subscribe(_told.Add);
}
