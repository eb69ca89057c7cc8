using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// Lays a clock on the score: as it runs, or apart from it by as much as staying on a bar and jumping have made. What a
/// site plays is heard later by its link's delay, so the place of a moment ago is asked for too. Allocates nothing.
/// </summary>
internal sealed class Playhead
{
    private readonly Timeline _timeline;
    private readonly double[] _barStarts;   // seconds of each played bar, and the end
    private double _clock;
    private double _apart;                   // score − clock
    private double _apartBefore;
    private double _changed = double.NegativeInfinity;
    private double _from;
    private double _to;

    internal Playhead(Timeline timeline)
    {
        _timeline = timeline;
        _barStarts = [.. timeline.Bars.Select(bar => timeline.Tempo.SecondsAt(bar.Start).Value), timeline.Duration.Value];
    }

    /// <summary>Whether it stays on a bar, and how.</summary>
    internal StayKind Stay { get; private set; }

    /// <summary>How far the score is ahead of the clock.</summary>
    internal Seconds Apart => new(_apart);

    /// <summary>Where it goes at the next barline; <c>null</c> for straight on.</summary>
    internal Seconds? JumpsTo { get; private set; }

    /// <summary>Seconds into the score; negative during a count-in, at most the end.</summary>
    internal double Score => Math.Min(Stay == StayKind.Hold ? _from : _clock + _apart, _barStarts[^1]);

    /// <summary>The played bar, from 1, at a place.</summary>
    internal int BarAt(double seconds)
    {
        var found = Array.BinarySearch(_barStarts, seconds);
        return Math.Clamp(found >= 0 ? found + 1 : ~found, 1, _timeline.Bars.Count);
    }

    /// <summary>Where the music was that arrives so much later.</summary>
    internal double Heard(Seconds delay)
    {
        if (Stay == StayKind.Hold) return _from;
        var then = _clock - delay.Value;
        return Math.Min(then + (then < _changed ? _apartBefore : _apart), _barStarts[^1]);
    }

    /// <summary>Follows the clock.</summary>
    /// <param name="clock">Where it is.</param>
    /// <param name="turns">Whether it stays and jumps by itself; not where another run says when.</param>
    /// <returns>True when staying or jumping set score and clock apart anew.</returns>
    internal bool Advance(Seconds clock, bool turns = true)
    {
        _clock = clock.Value;
        if (!turns) return false;
        if (Stay == StayKind.Loop)
        {
            var over = _clock + _apart - _to;
            if (over < 0 || _to <= _from) return false;
            var times = Math.Floor(over / (_to - _from)) + 1;
            Set(_apart - (times * (_to - _from)), _clock - (over % (_to - _from)));
            return true;
        }
        if (JumpsTo is { } target && _clock + _apart >= _to)
        {
            Set(_apart + target.Value - _to, _to - _apart);
            JumpsTo = null;
            return true;
        }
        return false;
    }

    /// <summary>The clock was begun or has jumped: score and clock are together again.</summary>
    internal void Reset(Seconds clock)
    {
        (Stay, JumpsTo) = (StayKind.None, null);
        (_clock, _apart, _apartBefore, _changed) = (clock.Value, 0, 0, double.NegativeInfinity);
    }

    /// <summary>Takes up a state that a log ends in.</summary>
    internal void Restore(Seconds apart, StayKind stay, Seconds at, Seconds? jumpsTo)
    {
        (_apart, _apartBefore, _changed) = (apart.Value, apart.Value, double.NegativeInfinity);
        _clock = at.Value - apart.Value;
        if (stay == StayKind.Hold) (Stay, _from) = (stay, at.Value);
        else if (stay == StayKind.Loop) StayOnBar();
        else if (jumpsTo is { } target) JumpAtBarline(target);
    }

    /// <summary>Plays the present bar over and over.</summary>
    internal void StayOnBar()
    {
        var bar = BarAt(Math.Max(0, Score));
        (Stay, JumpsTo, _from, _to) = (StayKind.Loop, null, _barStarts[bar - 1], _barStarts[bar]);
    }

    /// <summary>Stands where it is.</summary>
    internal void HoldStill() => (_from, Stay, JumpsTo) = (Score, StayKind.Hold, null);

    /// <summary>Goes on: out of a loop at its barline, from standing at once.</summary>
    internal void Release()
    {
        if (Stay == StayKind.Hold) Set(_from - _clock, _clock);
        Stay = StayKind.None;
    }

    /// <summary>Goes elsewhere at the end of the present bar.</summary>
    internal void JumpAtBarline(Seconds target)
    {
        Release();
        (_to, JumpsTo) = (_barStarts[BarAt(Math.Max(0, Score))], target);
    }

    private void Set(double apart, double changed) => (_apartBefore, _apart, _changed) = (_apart, apart, changed);
}
