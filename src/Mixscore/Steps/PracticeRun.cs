using System.Globalization;
using Mixscore.Desk;

namespace Mixscore.Steps;

/// <summary>A desk to practise on, on its wire: what arrives, what is due, and what it is told, one after the other.</summary>
internal sealed class PracticeRun : IDisposable
{
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(10);
    private readonly PracticeDesk _desk;
    private readonly DeskLink _link;
    private readonly TimeProvider _time;
    private readonly long _start;
    private readonly Action<string> _say;
    private readonly Lock _gate = new();
    private readonly List<StripValue> _due = [];
    private readonly TaskCompletionSource _quit = new(TaskCreationOptions.RunContinuationsAsynchronously);

    internal PracticeRun(DeskMap map, PracticeHabits habits, TimeProvider time, Action<string> say)
    {
        (_desk, _time, _start, _say) = (new PracticeDesk(map, habits), time, time.GetTimestamp(), say);
        _link = DeskLink.Open(map, DeskEnd.Desk, time, value =>
        {
            lock (_gate) _desk.Take(value, Now);
        });
    }

    /// <summary>What came of it, in words.</summary>
    internal string Summary
    {
        get
        {
            lock (_gate)
                return $"{_desk.Moved} moves, {_desk.Withstood} withstood by a hand{(_link.Faults is { Length: > 0 } faults ? $"; not understood: {faults}" : "")}.";
        }
    }

    private TimeSpan Now => _time.GetElapsedTime(_start);

    /// <summary>Obeys a line.</summary>
    /// <returns>False when it is told to end.</returns>
    internal bool Obey(string line)
    {
        if (!PracticeOrder.TryParse(line, out var order))
        {
            _say($"\"{line}\" is no order; {PracticeOrder.Forms}");
            return true;
        }
        lock (_gate)
        {
            switch (order?.Kind)
            {
                case PracticeOrderKind.Grab: _desk.Grab(order.Strip, order.Gain, order.Over, Now); break;
                case PracticeOrderKind.Release: _desk.Release(order.Strip); break;
                case PracticeOrderKind.Feed: _desk.Feed(order.Strip, order.Gain); break;
                case PracticeOrderKind.Show: Show(); break;
                case PracticeOrderKind.Quit: _quit.TrySetResult(); return false;
            }
        }
        return true;
    }

    /// <summary>Runs until told to end, in either way.</summary>
    internal async Task UntilAsync(CancellationToken ended)
    {
        using var timer = new PeriodicTimer(Pace, _time);
        using var _ = ended.Register(() => _quit.TrySetResult());
        while (!_quit.Task.IsCompleted)
        {
            Tick();
            await Task.WhenAny(timer.WaitForNextTickAsync(CancellationToken.None).AsTask(), _quit.Task);
        }
    }

    public void Dispose() => _link.Dispose();

    private void Tick()
    {
        lock (_gate)
        {
            _due.Clear();
            _desk.Tick(Now, _due);
            if (_due.Count > 0) _link.Send([.. _due]);
        }
    }

    private void Show()
    {
        foreach (var strip in _desk.Strips)
            _say(string.Create(CultureInfo.InvariantCulture, $"strip {strip} {(_desk.GainOf(strip) is { } gain ? $"{gain.Value:0.00} dB" : "off")}{(_desk.IsHeld(strip) ? " in hand" : "")}"));
    }
}
