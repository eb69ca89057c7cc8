using Mixscore.Desk;
using Mixscore.Loudness;

namespace Mixscore.Live.Tests;

/// <summary>
/// A run against a desk to practise on in virtual time: what happens is scripted by milliseconds, the network between the two
/// may lose and delay, and each tick leaves a row of what the desk's faders and the run said.
/// </summary>
internal sealed class VirtualNight : ILogSink
{
    private const int TickMs = 20;
    private readonly SortedDictionary<int, List<Action>> _script = [];
    private readonly PriorityQueue<(bool ToDesk, StripValue Value), (TimeSpan, int)> _wire = new();
    private readonly List<StripValue> _out = [];
    private readonly Random _chance = new(7);
    private TimeSpan _now;
    private int _order;

    public VirtualNight(LivePlan plan, RunClock? clock = null, DeskMap? map = null, PracticeHabits? habits = null, RunSettings? settings = null)
    {
        Map = map ?? Pieces.Osc;
        Desk = new PracticeDesk(Map, habits ?? new PracticeHabits());
        foreach (var source in plan.Sources) Desk.Feed(source.Source.Strip, Decibels.Of(-18));
        RunDesk = new RunDesk(Map, [.. plan.Sources.Select(source => source.Source.Strip)], Send);
        Run = new LiveRun(plan, clock ?? new OwnClick(), [RunDesk], settings ?? new RunSettings { CountInBars = 0 }, this);
        Plan = plan;
    }

    public LivePlan Plan { get; }

    public DeskMap Map { get; }

    public PracticeDesk Desk { get; private set; }

    public RunDesk RunDesk { get; }

    public LiveRun Run { get; private set; }

    public List<LogEntry> Log { get; } = [];

    public List<Row> Rows { get; } = [];

    /// <summary>How likely a value is lost on its way.</summary>
    public double Loss { get; set; }

    /// <summary>Up to how much a value is delayed on its way, beyond a millisecond.</summary>
    public TimeSpan Jitter { get; set; }

    /// <summary>Whether the desk is there.</summary>
    public bool IsThere { get; set; } = true;

    /// <summary>Whether ticks are left out, as when the machine is suspended.</summary>
    public bool IsSuspended { get; set; }

    public TimeSpan Now => _now;

    public sealed record Row(double Seconds, double At, RunPicture Picture, Decibels?[] Desk, StripValue[] Sent);

    public VirtualNight At(int milliseconds, Action action)
    {
        if (!_script.TryGetValue(milliseconds, out var actions)) _script.Add(milliseconds, actions = []);
        actions.Add(action);
        return this;
    }

    public VirtualNight At(int milliseconds, params RunEvent[] events) => At(milliseconds, () =>
    {
        foreach (var posted in events) Run.Post(posted);
    });

    /// <summary>The desk is switched off and on again: all its faders are shut, and it says so.</summary>
    public void StartDeskAnew()
    {
        Desk = new PracticeDesk(Map, new PracticeHabits());
        foreach (var source in Plan.Sources)
        {
            Desk.Feed(source.Source.Strip, Decibels.Of(-18));
            Carry(false, new StripValue(source.Source.Strip, StripPart.Fader, Map.Fader.Law.Off));
        }
    }

    /// <summary>Goes on by so many milliseconds.</summary>
    public VirtualNight RunFor(int milliseconds)
    {
        var until = _now + TimeSpan.FromMilliseconds(milliseconds);
        for (; _now < until; _now += TimeSpan.FromMilliseconds(1))
        {
            var ms = (int)_now.TotalMilliseconds;
            if (_script.Remove(ms, out var actions)) actions.ForEach(action => action());
            while (_wire.TryPeek(out var packet, out var due) && due.Item1 <= _now)
            {
                _wire.Dequeue();
                if (!IsThere) continue;
                if (packet.ToDesk) Desk.Take(packet.Value, _now);
                else Run.Post(RunEvent.Desk(0, packet.Value));
            }
            if (ms % 5 == 0 && IsThere)
            {
                var due = new List<StripValue>();
                Desk.Tick(_now, due);
                due.ForEach(value => Carry(false, value));
            }
            if (ms % TickMs == 0 && !IsSuspended) Tick();
        }
        return this;
    }

    public void Add(in LogEntry entry) => Log.Add(entry);

    public int Index(string source) => Plan.Find(source).Single();

    /// <summary>Who held a source, from when on, in seconds.</summary>
    public List<(double Seconds, Holder Holder)> Holders(string source)
    {
        var index = Index(source);
        var holders = new List<(double, Holder)>();
        foreach (var row in Rows)
            if (holders.Count == 0 || holders[^1].Item2 != row.Picture.Sources[index].Holder) holders.Add((row.Seconds, row.Picture.Sources[index].Holder));
        return holders;
    }

    private void Tick()
    {
        _out.Clear();
        Run.Tick(_now);
        var picture = Run.View.Look();
        Rows.Add(new Row(_now.TotalSeconds, picture.At.Value, picture, [.. Plan.Sources.Select(source => Desk.GainOf(source.Source.Strip))], [.. _out]));
    }

    private bool Send(ReadOnlySpan<StripValue> values)
    {
        foreach (var value in values)
        {
            _out.Add(value);
            Carry(true, value);
        }
        return true;
    }

    private void Carry(bool toDesk, StripValue value)
    {
        if (_chance.NextDouble() < Loss) return;
        _wire.Enqueue((toDesk, value), (_now + TimeSpan.FromMilliseconds(1) + (Jitter * _chance.NextDouble()), _order++));
    }
}
