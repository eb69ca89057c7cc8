using System.Net;
using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Protocols.Osc;

namespace Mixscore.Live.Tests.Spare;

/// <summary>
/// Two runs of one plan and the desk in virtual time, with a network of three cables that can be cut one by one: between the runs, and from
/// each to the desk. The ticks of the two do not fall together, nor do their times begin together.
/// </summary>
internal sealed class TwoRuns
{
    public const int First = 0;
    public const int Second = 1;
    private const string Key = "plan";
    private readonly SortedDictionary<int, List<Action>> _script = [];
    private readonly PriorityQueue<Action, (TimeSpan, int)> _wire = new();
    private readonly Random _chance;
    private readonly PracticeDesk _desk;
    private readonly DeskMap _map;
    private TimeSpan _now;
    private int _order;

    public TwoRuns(LivePlan plan, DeskMap? map = null, PracticeHabits? habits = null, bool withMeters = true, Func<RunClock>? clock = null, int seed = 5)
    {
        _chance = new Random(seed);
        _map = map ?? Pieces.Osc;
        if (!withMeters) _map = _map with { Meter = null };
        Plan = plan;
        _desk = new PracticeDesk(_map, habits ?? new PracticeHabits());
        foreach (var source in plan.Sources) _desk.Feed(source.Source.Strip, Decibels.Of(-18));
        NewClock = clock ?? (() => new OwnClick());
        Ends = [new End(this, First, isSpare: false, TimeSpan.Zero), new End(this, Second, isSpare: true, TimeSpan.FromMilliseconds(-13_007))];
    }

    public LivePlan Plan { get; }

    public Func<RunClock> NewClock { get; }

    public End[] Ends { get; }

    public PracticeDesk Desk => _desk;

    public TimeSpan Now => _now;

    /// <summary>Whether the runs hear each other.</summary>
    public bool AreJoined { get; set; } = true;

    /// <summary>Whether each run and the desk hear each other.</summary>
    public bool[] Reaches { get; } = [true, true];

    /// <summary>How likely a datagram between the runs is lost.</summary>
    public double Loss { get; set; }

    /// <summary>What the desk was sent over a cable that was whole: when, by whom.</summary>
    public List<(TimeSpan When, int By, StripValue Value)> Sent { get; } = [];

    /// <summary>The desk's faders each millisecond.</summary>
    public List<(TimeSpan When, Decibels?[] Gains)> Faders { get; } = [];

    public TwoRuns At(int milliseconds, Action action)
    {
        if (!_script.TryGetValue(milliseconds, out var actions)) _script.Add(milliseconds, actions = []);
        actions.Add(action);
        return this;
    }

    public TwoRuns At(int milliseconds, int end, params RunEvent[] events) => At(milliseconds, () =>
    {
        foreach (var posted in events) Ends[end].Run.Post(posted);
    });

    public TwoRuns RunFor(int milliseconds)
    {
        var until = _now + TimeSpan.FromMilliseconds(milliseconds);
        for (; _now < until; _now += TimeSpan.FromMilliseconds(1))
        {
            var ms = (int)_now.TotalMilliseconds;
            if (_script.Remove(ms, out var actions)) actions.ForEach(action => action());
            while (_wire.TryPeek(out var arrive, out var due) && due.Item1 <= _now)
            {
                _wire.Dequeue();
                arrive();
            }
            if (ms % 5 == 0) TickDesk();
            foreach (var end in Ends) end.Tick(ms);
            Faders.Add((_now, [.. Plan.Sources.Select(source => _desk.GainOf(source.Source.Strip))]));
        }
        return this;
    }

    /// <summary>Who sent to the desk in a stretch of time, in seconds.</summary>
    public int[] Senders(double from, double to) => [.. Sent.Where(sent => sent.When.TotalSeconds >= from && sent.When.TotalSeconds < to).Select(sent => sent.By).Distinct().Order()];

    /// <summary>How fast the desk's faders moved at most over a tenth of a second in a stretch of time, in dB a second.</summary>
    public double Fastest(double from, double to)
    {
        var rows = Faders.Where(row => row.When.TotalSeconds >= from && row.When.TotalSeconds <= to).ToArray();
        var fastest = 0.0;
        for (var i = 100; i < rows.Length; i++)
            for (var s = 0; s < rows[i].Gains.Length; s++)
                fastest = Math.Max(fastest, Math.Abs((rows[i].Gains[s]?.Value ?? -60) - (rows[i - 100].Gains[s]?.Value ?? -60)) / 0.1);
        return fastest;
    }

    /// <summary>A new run in the place of one that was killed, as the same command would begin it.</summary>
    public void StartAnew(int end) => Ends[end] = new End(this, end, isSpare: false, _now);

    private void TickDesk()
    {
        var due = new List<StripValue>();
        _desk.Tick(_now, due);
        foreach (var value in due)
            for (var e = 0; e < 2; e++)
            {
                var (end, to) = (Ends[e], e);
                Carry(() => Reaches[to], () => end.Run.Post(RunEvent.Desk(0, value)));
            }
    }

    private void Carry(Func<bool> isThere, Action arrive)
    {
        if (!isThere()) return;
        _wire.Enqueue(arrive, (_now + TimeSpan.FromMilliseconds(1 + (4 * _chance.NextDouble())), _order++));
    }

    internal sealed class End : ILogSink
    {
        private readonly TwoRuns _two;
        private readonly int _place;
        private readonly TimeSpan _zero;
        private readonly SpareTalk _talk;

        public End(TwoRuns two, int place, bool isSpare, TimeSpan zero)
        {
            (_two, _place, _zero) = (two, place, zero);
            var desk = new RunDesk(two._map, [.. two.Plan.Sources.Select(source => source.Source.Strip)], Send);
            var id = two._chance.Next(1, int.MaxValue);
            Run = new LiveRun(two.Plan, two.NewClock(), [desk], new RunSettings { CountInBars = 0, IsSpare = isSpare, PlanKey = Key, Id = id }, this);
            _talk = new SpareTalk(Run, Key, id, isSpare ? EndOf(1 - place) : null);
        }

        public LiveRun Run { get; }

        /// <summary>Whether it runs at all.</summary>
        public bool Lives { get; set; } = true;

        public List<LogEntry> Log { get; } = [];

        /// <summary>What it said to the other.</summary>
        public List<TwinState> Told { get; } = [];

        public SpareView Spare => Run.View.Look().Spare;

        public TimeSpan Now => _two._now - _zero;

        public void Add(in LogEntry entry) => Log.Add(entry);

        public void Tick(int ms)
        {
            if (!Lives) return;
            if ((ms + (7 * _place)) % 20 == 0) Run.Tick(Now);
            if ((ms + (11 * _place)) % 40 == 0) _talk.Tell(Now, Say);
        }

        private static IPEndPoint EndOf(int place) => new(IPAddress.Loopback, 9100 + place);

        private void Say(ReadOnlySpan<byte> packet, IPEndPoint to)
        {
            if (_two._chance.NextDouble() < _two.Loss) return;
            var (bytes, from) = (packet.ToArray(), EndOf(_place));
            Note(bytes);
            _two.Carry(() => _two.AreJoined, () =>
            {
                var other = _two.Ends[to.Port - 9100];
                if (!other.Lives) return;
                var reader = new OscReader(bytes);
                while (reader.NextMessage()) Assert.Null(other._talk.Take(ref reader, from, other.Now));
            });
        }

        private void Note(byte[] packet)
        {
            var reader = new OscReader(packet);
            while (reader.NextMessage())
                if (TwinMessage.Read(ref reader) is { } told) Told.Add(told);
        }

        private bool Send(ReadOnlySpan<StripValue> values)
        {
            foreach (var value in values)
            {
                var sent = value;
                if (_two.Reaches[_place]) _two.Sent.Add((_two._now, _place, sent));
                _two.Carry(() => _two.Reaches[_place], () => _two._desk.Take(sent, _two._now));
            }
            return true;
        }
    }
}
