using System.Numerics;

namespace Mixscore.Live;

/// <summary>
/// What many threads post and the run's thread takes, first in first out, without a lock: nobody who posts can make the run
/// wait. Bounded; what does not fit is refused and counted. The algorithm is D. Vyukov's bounded queue (1024cores.net).
/// </summary>
internal sealed class Inbox
{
    private readonly (long Turn, RunEvent Event)[] _cells;
    private readonly long _mask;
    private long _posted;
    private long _taken;
    private long _refused;

    /// <summary>A queue of at least so many.</summary>
    internal Inbox(int size = 16384)
    {
        _cells = new (long, RunEvent)[BitOperations.RoundUpToPowerOf2((uint)size)];
        _mask = _cells.Length - 1;
        for (var i = 0; i < _cells.Length; i++) _cells[i].Turn = i;
    }

    /// <summary>How many did not fit.</summary>
    internal long Refused => Volatile.Read(ref _refused);

    /// <summary>Posts.</summary>
    /// <returns>False when it is full.</returns>
    internal bool Post(in RunEvent posted)
    {
        while (true)
        {
            var place = Volatile.Read(ref _posted);
            ref var cell = ref _cells[place & _mask];
            var ahead = Volatile.Read(ref cell.Turn) - place;
            if (ahead < 0)
            {
                Interlocked.Increment(ref _refused);
                return false;
            }
            if (ahead > 0 || Interlocked.CompareExchange(ref _posted, place + 1, place) != place) continue;
            cell.Event = posted;
            Volatile.Write(ref cell.Turn, place + 1);
            return true;
        }
    }

    /// <summary>Takes the next. One thread only.</summary>
    internal bool TryTake(out RunEvent taken)
    {
        ref var cell = ref _cells[_taken & _mask];
        taken = default;
        if (Volatile.Read(ref cell.Turn) != _taken + 1) return false;
        taken = cell.Event;
        cell.Event = default;
        Volatile.Write(ref cell.Turn, _taken + _cells.Length);
        _taken++;
        return true;
    }
}
