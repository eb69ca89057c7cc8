namespace Mixscore.Desk;

/// <summary>
/// How much a MIDI wire has room for now: never more in any second than it carries, and never more than it has sent within 40 ms,
/// so that nothing waits long behind what was sent before. Takes no memory after it is made.
/// </summary>
internal sealed class WireRoom(long ticksPerSecond)
{
    private const int LeastBytes = 3;      // the shortest message that sets a value
    private const int MostUnderWay = 125;  // 40 ms of the wire; our own choice

    private readonly (long At, int Bytes)[] _sent = new (long, int)[(MidiWire.BytesPerSecond / LeastBytes) + 1];
    private long _written;        // how many were sent in all
    private long _first;          // the first of them that still counts
    private int _inSecond;
    private double _underWay;     // bytes that the wire has taken and not yet carried, when something was last sent
    private long _last;

    /// <summary>The most bytes that were ever sent in a second.</summary>
    internal int Peak { get; private set; }

    /// <summary>How many bytes may be sent at an instant.</summary>
    internal int At(long now)
    {
        for (; _first < _written && _sent[_first % _sent.Length].At <= now - ticksPerSecond; _first++) _inSecond -= _sent[_first % _sent.Length].Bytes;
        return Math.Min(MidiWire.BytesPerSecond - _inSecond, MostUnderWay - (int)Math.Ceiling(UnderWay(now)));
    }

    /// <summary>Notes what is sent.</summary>
    internal void Take(long now, int bytes)
    {
        _sent[_written++ % _sent.Length] = (now, bytes);
        _inSecond += bytes;
        (_underWay, _last) = (UnderWay(now) + bytes, now);
        Peak = Math.Max(Peak, _inSecond);
    }

    private double UnderWay(long now) => Math.Max(0, _underWay - ((now - _last) * (double)MidiWire.BytesPerSecond / ticksPerSecond));
}
