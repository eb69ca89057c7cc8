using System.Reactive.Concurrency;
using System.Reactive.Linq;

namespace Mixscore.Live;

/// <summary>Whether a desk's wire is open, as a stream that speaks only when that changes.</summary>
internal static class WireWatch
{
    /// <summary>From one look to the next.</summary>
    internal static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(100);

    /// <summary>Looks at once and from then on ten times a second.</summary>
    /// <param name="isReady">Whether the wire is open.</param>
    /// <param name="opened">How often it was opened.</param>
    /// <param name="scheduler">Tells when to look.</param>
    /// <returns><c>true</c> when it opens, <c>false</c> when it closes; both for one that was closed and opened between two looks.</returns>
    internal static IObservable<bool> Of(Func<bool> isReady, Func<int> opened, IScheduler scheduler) => Observable.Defer(() =>
    {
        var before = opened();
        return Observable.Interval(Pace, scheduler).StartWith(0)
            .Select(_ => (IsReady: isReady(), Opened: opened()))
            .DistinctUntilChanged()
            .SelectMany(now =>
            {
                var isAnother = now.Opened != before;
                before = now.Opened;
                return isAnother ? (bool[])[false, now.IsReady] : [now.IsReady];
            });
    });
}
