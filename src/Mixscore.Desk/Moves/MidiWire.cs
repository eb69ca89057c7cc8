namespace Mixscore.Desk;

/// <summary>
/// Lets through what a MIDI wire can carry in any second, largest error first. Where the rides want more, no tenth of a
/// second takes more than a tenth of the wire, so that the room is spread over the stretch instead of used up at its start.
/// </summary>
internal sealed class MidiWire
{
    /// <summary>Bytes in a second: 31,250 bits at ten bits a byte (MIDI 1.0, hardware).</summary>
    public const int BytesPerSecond = 3125;

    /// <summary>How often a move that found no room is tried again, in seconds.</summary>
    private const double Retry = 0.02;

    // Times move by up to a tick when they go into a file: a little more than a second must hold no more than a second's bytes.
    private const double Second = 1.005, Tenth = 0.105;

    private readonly IReadOnlyList<WireRide> _rides;
    private readonly FaderLaw _law;
    private readonly IReadOnlyList<int> _bytes;
    private readonly IReadOnlyList<List<DeskMove>> _wanted;
    private readonly List<DeskMove>[] _sent;
    private readonly Queue<(double At, int Bytes)> _second = new();
    private readonly Queue<(double At, int Bytes)> _tenth = new();
    private int _inSecond, _inTenth;

    private MidiWire(IReadOnlyList<WireRide> rides, FaderLaw law, IReadOnlyList<int> bytes, IReadOnlyList<List<DeskMove>> wanted)
    {
        (_rides, _law, _bytes, _wanted) = (rides, law, bytes, wanted);
        _sent = [.. wanted.Select(_ => new List<DeskMove>())];
    }

    /// <summary>The moves that the wire has room for, source by source, each when it is sent.</summary>
    /// <param name="rides">The rides.</param>
    /// <param name="law">The law of the faders.</param>
    /// <param name="bytes">What a move of each takes.</param>
    /// <param name="wanted">The moves that each wants.</param>
    public static IReadOnlyList<List<DeskMove>> Carry(
        IReadOnlyList<WireRide> rides, FaderLaw law, IReadOnlyList<int> bytes, IReadOnlyList<List<DeskMove>> wanted)
    {
        var all = wanted.SelectMany((moves, source) => moves.Select(move => (At: move.At.Value, Source: source))).OrderBy(move => move.At).ToList();
        var crowded = Crowded([.. all.Select(move => (move.At, bytes[move.Source]))]);
        if (crowded.Count == 0) return wanted;
        var wire = new MidiWire(rides, law, bytes, wanted);
        wire.Run([.. all.Select(move => move.At).Distinct()], crowded);
        return wire._sent;
    }

    /// <summary>The most bytes in any second, the second's end not included.</summary>
    /// <param name="sent">What is sent when, in order of time.</param>
    public static int Peak(IReadOnlyList<(double At, int Bytes)> sent)
    {
        int peak = 0, inside = 0, first = 0;
        foreach (var (at, bytes) in sent)
        {
            inside += bytes;
            while (sent[first].At <= at - 1) inside -= sent[first++].Bytes;
            peak = Math.Max(peak, inside);
        }
        return peak;
    }

    /// <summary>The stretches in which more is wanted than fits.</summary>
    private static List<(double From, double To)> Crowded(IReadOnlyList<(double At, int Bytes)> wanted)
    {
        var stretches = new List<(double From, double To)>();
        int inside = 0, first = 0;
        foreach (var (at, bytes) in wanted)
        {
            inside += bytes;
            while (wanted[first].At <= at - Second) inside -= wanted[first++].Bytes;
            if (inside <= BytesPerSecond) continue;
            var from = wanted[first].At;
            if (stretches.Count > 0 && stretches[^1].To >= from) stretches[^1] = (stretches[^1].From, at);
            else stretches.Add((from, at));
        }
        return stretches;
    }

    private void Run(IReadOnlyList<double> times, List<(double From, double To)> crowded)
    {
        var next = new int[_wanted.Count];       // the first move of each source that is not yet due
        var behind = new SortedSet<int>();       // sources whose last due move was not sent
        var least = _bytes.Min();
        var stretch = 0;
        var index = 0;
        var at = 0.0;
        while (index < times.Count || behind.Count > 0)
        {
            // A move that found no room is tried again, but never later than the next that is due.
            var retry = (Math.Floor(at / Retry + 1e-9) + 1) * Retry;
            at = behind.Count > 0 && (index >= times.Count || retry < times[index]) ? Math.Round(retry * 1e6) / 1e6 : times[index];
            while (index < times.Count && times[index] <= at) index++;
            for (var source = 0; source < next.Length; source++)
            {
                while (next[source] < _wanted[source].Count && _wanted[source][next[source]].At.Value <= at)
                {
                    next[source]++;
                    behind.Add(source);
                }
            }
            while (stretch < crowded.Count && crowded[stretch].To < at) stretch++;
            // The first settings are not spread: before them the desk stands anywhere.
            var spread = at > 0 && stretch < crowded.Count && crowded[stretch].From <= at;
            Forget(at);
            if (!HasRoom(least, spread)) continue;
            foreach (var source in behind.OrderByDescending(source => Error(source, next[source] - 1, at)).ThenBy(source => source).ToList())
            {
                if (!Send(source, _wanted[source][next[source] - 1], at, spread)) break;
                behind.Remove(source);
            }
        }
    }

    private bool Send(int source, DeskMove move, double at, bool spread)
    {
        if (_sent[source].Count > 0 && _sent[source][^1].Value == move.Value) return true;
        var bytes = _bytes[source];
        if (!HasRoom(bytes, spread)) return false;
        _sent[source].Add(move with { At = new Score.Seconds(at) });
        _second.Enqueue((at, bytes));
        _tenth.Enqueue((at, bytes));
        _inSecond += bytes;
        _inTenth += bytes;
        return true;
    }

    private bool HasRoom(int bytes, bool spread) => _inSecond + bytes <= BytesPerSecond && !(spread && _inTenth + bytes > BytesPerSecond / 10);

    private void Forget(double at)
    {
        while (_second.TryPeek(out var oldest) && oldest.At <= at - Second) _inSecond -= _second.Dequeue().Bytes;
        while (_tenth.TryPeek(out var oldest) && oldest.At <= at - Tenth) _inTenth -= _tenth.Dequeue().Bytes;
    }

    /// <summary>How far the fader stands from where it should be; one that was never set comes first.</summary>
    private double Error(int source, int due, double at)
    {
        if (_sent[source].Count == 0) return double.MaxValue;
        var ride = _rides[source];
        var wanted = _wanted[source][due].Gain is null ? ride.Floor : ride.GainAt(at);
        return Math.Abs(MoveErrors.HeldAs(ride, _law, _sent[source][^1]) - wanted);
    }
}
