namespace Mixscore.Live;

/// <summary>
/// What was sent to one fader of a motor desk of late, so that the desk's report of our own move is told from a hand's. A
/// report is an echo when something sent within the desk's lateness was so, to the nearness of the fader's own places, or
/// when it lies on the way between such values, where the motor passes. Each thing sent is echoed once: a report past that
/// is a hand's, also when it stands where the plan once was.
/// </summary>
internal sealed class EchoMemory
{
    /// <summary>How late an echo may be: 400 ms, and what the network and both ends add.</summary>
    internal static readonly TimeSpan Latest = TimeSpan.FromMilliseconds(500);

    private const int Size = 64;
    private readonly (double Value, TimeSpan When, bool Anew, bool Echoed)[] _sent = new (double, TimeSpan, bool, bool)[Size];
    private int _count;

    /// <summary>Notes what was sent.</summary>
    /// <param name="value">On the wire.</param>
    /// <param name="now">When.</param>
    /// <param name="anew">Whether it was sent before and has not changed.</param>
    internal void Sent(double value, TimeSpan now, bool anew = false) => _sent[_count++ % Size] = (value, now, anew, false);

    /// <summary>Whether a report is our own move coming back.</summary>
    /// <param name="value">On the wire.</param>
    /// <param name="nearness">How near a report is to what it reports.</param>
    /// <param name="now">When it came.</param>
    /// <param name="isOnTheWay">Whether values between those sent are ours too: not while a hand is on the fader.</param>
    /// <param name="wasSentAnew">Whether it is the echo of something that had not changed.</param>
    internal bool IsEcho(double value, double nearness, TimeSpan now, bool isOnTheWay, out bool wasSentAnew)
    {
        wasSentAnew = false;
        var (low, high) = (double.PositiveInfinity, double.NegativeInfinity);
        for (var i = Math.Max(0, _count - Size); i < _count; i++)
        {
            ref var sent = ref _sent[i % Size];
            // What stood before the window began is where the motor started from.
            var isLast = i == _count - 1 || now - _sent[(i + 1) % Size].When <= Latest;
            if (now - sent.When > Latest && !isLast) continue;
            (low, high) = (Math.Min(low, sent.Value), Math.Max(high, sent.Value));
            if (now - sent.When > Latest || sent.Echoed || Math.Abs(sent.Value - value) > nearness) continue;
            (sent.Echoed, wasSentAnew) = (true, sent.Anew);
            return true;
        }
        return isOnTheWay && value >= low - nearness && value <= high + nearness;
    }

    /// <summary>Forgets all: the desk is new.</summary>
    internal void Clear() => _count = 0;
}
