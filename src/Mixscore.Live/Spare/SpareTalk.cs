using System.Net;
using Mixscore.Protocols.Osc;

namespace Mixscore.Live;

/// <summary>Sends a datagram.</summary>
internal delegate void SendTo(ReadOnlySpan<byte> packet, IPEndPoint to);

/// <summary>
/// What a run says to another, and hears of it. The one that performs tells its state to those that follow, and to the run whose spare it
/// was, in case that comes back; the one that follows says that it is there. Time is passed in; the edges are elsewhere.
/// </summary>
public sealed class SpareTalk
{
    /// <summary>From one telling to the next; a spare that misses a dozen takes the other for silent.</summary>
    internal static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(40);

    private static readonly TimeSpan Remembers = TimeSpan.FromSeconds(5);
    private const int MostOthers = 8;
    private readonly LiveRun _run;
    private readonly string _planKey;
    private readonly long _id;
    private readonly IPEndPoint? _first;
    private readonly RunPicture _picture;
    private readonly TwinTime _time = new();
    private readonly Dictionary<IPEndPoint, TimeSpan> _others = [];
    private readonly Lock _gate = new();
    private readonly byte[] _buffer = new byte[TwinMessage.MostBytes];
    private (long Id, TimeSpan Sent) _last;
    private bool _hasToldOfPlan;

    /// <summary>Talk of a run.</summary>
    /// <param name="run">The run.</param>
    /// <param name="planKey">What it performs.</param>
    /// <param name="id">Tells it from every other.</param>
    /// <param name="first">Whose spare it is; <c>null</c> where others may be its own.</param>
    public SpareTalk(LiveRun run, string planKey, long id, IPEndPoint? first)
    {
        ArgumentNullException.ThrowIfNull(run);
        (_run, _planKey, _id, _first, _picture) = (run, planKey, id, first, run.View.NewPicture());
    }

    /// <summary>Takes what another says.</summary>
    /// <returns>What is wrong with it, in words; <c>null</c> when nothing is.</returns>
    internal string? Take(ref OscReader message, IPEndPoint from, TimeSpan now)
    {
        if (TwinMessage.Read(ref message) is not { } other) return $"{from} says something of a spare that is not understood";
        if (other.Id == _id) return null;
        if (other.PlanKey != _planKey)
        {
            if (_hasToldOfPlan) return null;
            _hasToldOfPlan = true;
            return $"{from} performs another plan, or other rides: neither can be the other's spare (copy the project, with out/rides.json)";
        }
        lock (_gate)
        {
            if (_others.Count < MostOthers || _others.ContainsKey(from)) _others[from] = now;
            // A network may deliver them in another order.
            if (other.IsPerforming && other.Id == _last.Id && other.When < _last.Sent) return null;
            if (other.IsPerforming) _last = (other.Id, other.When);
            if (other.IsPerforming) other = other with { When = _time.Ours(other.Id, other.When, now) };
        }
        _run.Post(RunEvent.Twin(other));
        return null;
    }

    /// <summary>Says what is to be said now.</summary>
    internal void Tell(TimeSpan now, SendTo send)
    {
        _run.View.Look(_picture);
        lock (_gate)
        {
            foreach (var (other, heard) in _others)
                if (now - heard > Remembers) _others.Remove(other);
            var tells = _run.View.WantsTwins = _others.Count > 0 || _first is not null;
            if (_picture.Spare.Role == SpareRole.Follows) TellAll(new TwinState { PlanKey = _planKey, Id = _id, Term = _picture.Spare.Term, IsPerforming = false }, send);
            else if (tells && _picture.HasTwins)
                for (var from = 0; from == 0 || from < _picture.Twins.Length; from += TwinMessage.MostRows) TellAll(State(from), send);
        }
    }

    private void TellAll(TwinState state, SendTo send)
    {
        var length = TwinMessage.Write(_buffer, state);
        foreach (var other in _others.Keys) send(_buffer.AsSpan(0, length), other);
        if (_first is { } first && !_others.ContainsKey(first)) send(_buffer.AsSpan(0, length), first);
    }

    private TwinState State(int from) => new()
    {
        PlanKey = _planKey,
        Id = _id,
        Term = _picture.Spare.Term,
        IsPerforming = true,
        When = _picture.Now,
        Phase = _picture.Phase,
        IsArmed = _picture.IsArmed,
        Clock = _picture.Clock.At,
        ClockState = _picture.Clock.State,
        Rate = _picture.Clock.Rate,
        StartAt = _picture.StartAt,
        Apart = _picture.Apart,
        Stay = _picture.Stay,
        At = _picture.At,
        JumpsTo = _picture.JumpsTo,
        DeskSilent = _picture.DeskSilent,
        First = from,
        Sources = new ArraySegment<TwinSource>(_picture.Twins, from, Math.Min(TwinMessage.MostRows, _picture.Twins.Length - from)),
    };
}
