using Mixscore.Desk;

namespace Mixscore.Live;

/// <summary>
/// Sends to a desk whose wire may make its sender wait, on a thread of its own: the run leaves the newest value of each strip and
/// goes on. A value that was not sent before the next one came is left out, as no fader has need of it.
/// </summary>
internal sealed class DeskSender : IDisposable
{
    private readonly DeskLink _link;
    private readonly Lock _gate = new();
    private readonly StripValue[] _newest = new StripValue[257];
    private readonly bool[] _waits = new bool[257];
    private readonly StripValue[] _batch = new StripValue[257];
    private readonly AutoResetEvent _some = new(false);
    private readonly Thread _thread;
    private volatile bool _stopped;
    private volatile bool _all = true;

    internal DeskSender(DeskLink link)
    {
        _link = link;
        _thread = new Thread(Loop) { IsBackground = true, Name = $"to {link.Map.Title}", Priority = ThreadPriority.AboveNormal };
        _thread.Start();
    }

    /// <summary>Leaves values to be sent.</summary>
    /// <returns>False when the last ones could not be.</returns>
    internal bool Send(ReadOnlySpan<StripValue> values)
    {
        lock (_gate)
        {
            foreach (var value in values)
                if (value.Strip is > 0 and < 257) (_newest[value.Strip], _waits[value.Strip]) = (value, true);
        }
        _some.Set();
        return _all;
    }

    public void Dispose()
    {
        _stopped = true;
        _some.Set();
        _thread.Join(TimeSpan.FromSeconds(2));
        _some.Dispose();
    }

    private void Loop()
    {
        while (!_stopped)
        {
            _some.WaitOne();
            var count = 0;
            lock (_gate)
            {
                for (var strip = 1; strip < _waits.Length; strip++)
                {
                    if (!_waits[strip]) continue;
                    _waits[strip] = false;
                    _batch[count++] = _newest[strip];
                }
            }
            if (count > 0 && !_stopped) _all = _link.Send(_batch.AsSpan(0, count));
        }
    }
}
