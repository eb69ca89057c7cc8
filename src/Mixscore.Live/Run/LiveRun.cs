using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// The live run: each tick it takes what has been posted, asks the clock where the piece is, lets every source's fader follow
/// the plan or the hand, and sends to each desk what changed. One thread ticks; any thread may post and look. Nothing is
/// allocated in a tick, and nothing in it waits. Time is passed in.
/// </summary>
public sealed partial class LiveRun
{
    private LivePlan _plan;
    private readonly RunClock _clock;
    private readonly RunDesk[] _desks;
    private readonly RunSettings _settings;
    private readonly ILogSink? _log;
    private readonly Inbox _inbox = new();
    private readonly Playhead _head;
    private readonly SourceFader[] _faders;
    private readonly LinkWatch[] _links;
    private TimeSpan _now;
    private TimeSpan _nextPosition;
    private bool _hasTicked;
    private bool _isArmed;
    private RunPhase _phase;
    private double _startAt;
    private ClockReading _reading;
    private ClockState _loggedState;

    /// <summary>A run that waits, sending nothing.</summary>
    /// <param name="plan">What to do.</param>
    /// <param name="clock">Tells where the piece is.</param>
    /// <param name="desks">Whose faders move; none for a run that is only watched.</param>
    /// <param name="settings">How it behaves.</param>
    /// <param name="log">Takes what happens; <c>null</c> for nobody.</param>
    public LiveRun(LivePlan plan, RunClock clock, IReadOnlyList<RunDesk> desks, RunSettings? settings = null, ILogSink? log = null)
    {
        (_plan, _clock, _desks, _settings, _log) = (plan, clock, [.. desks], settings ?? new RunSettings(), log);
        _head = new Playhead(plan.Timeline);
        _faders = [.. plan.Sources.Select(_ => new SourceFader(plan.Limits))];
        _links = [.. plan.Sources.Select(_ => new LinkWatch())];
        for (var i = 0; i < _faders.Length; i++) _faders[i].Place(RideAt(i));
        if (_settings.IsSpare) BeginToFollow();
        View = new RunView(plan.Sources.Count, desks.Count);
        Publish();
    }

    /// <summary>What it does.</summary>
    public LivePlan Plan => _plan;

    /// <summary>What can be seen of it, from any thread.</summary>
    public RunView View { get; }

    /// <summary>How many posted things did not fit and were lost.</summary>
    public long Refused => _inbox.Refused;

    /// <summary>Takes other rides and levels for the same piece, between two ticks and on the thread that ticks: what a rehearsal
    /// does when its plan was changed. Faders go to where the new rides have them at the plan's own speed.</summary>
    /// <param name="plan">The same sources over the same bars; limits stay as they were.</param>
    /// <exception cref="ArgumentException">It is another piece.</exception>
    public void Replan(LivePlan plan)
    {
        if (!plan.Sources.Select(source => source.Source.Name).SequenceEqual(_plan.Sources.Select(source => source.Source.Name)) || plan.Timeline.End != _plan.Timeline.End)
            throw new ArgumentException("a run goes on with its own sources and bars", nameof(plan));
        _plan = plan;
    }

    /// <summary>Posts something, from any thread; the next tick takes it.</summary>
    /// <returns>False when there is no room, which is counted.</returns>
    public bool Post(RunEvent posted) => _inbox.Post(posted);

    /// <summary>A tick.</summary>
    /// <param name="now">When it was due, on the run's own time; never earlier than the last.</param>
    public void Tick(TimeSpan now)
    {
        // A tick that comes late moves no fader farther than one in time: for whoever listens, the time between did not move it.
        var seconds = _hasTicked ? Math.Clamp((now - _now).TotalSeconds, 0, RunSettings.Tick.TotalSeconds) : 0;
        StepBackAfterGap(now);
        (_now, _hasTicked) = (now, true);
        FollowClock();
        while (_inbox.TryTake(out var posted)) Take(posted);
        FollowClock();
        StepSpare();
        for (var i = 0; i < _faders.Length; i++) StepSource(i, seconds);
        for (var d = 0; d < _desks.Length; d++) StepDesk(d, seconds);
        if (_phase == RunPhase.Running && now >= _nextPosition)
        {
            _nextPosition = now + TimeSpan.FromSeconds(1);
            Tell(new LogEntry(LogKind.Position, _now, new Seconds(Score)) { Number = Follows ? _reading.At.Value : null });
        }
        Publish();
    }

    private void FollowClock()
    {
        var fresh = _clock.Read(_now);
        if (fresh.Relocations != _reading.Relocations && _phase == RunPhase.Running && !IsLed) _head.Reset(fresh.At);
        _reading = fresh;
        if (_reading.State != _loggedState)
        {
            _loggedState = _reading.State;
            Tell(new LogEntry(LogKind.Clock, _now, new Seconds(Score)) { Text = Words.Of(_reading.State) });
        }
        if (_phase != RunPhase.Running || _reading.State == ClockState.Waiting) return;
        if (_head.Advance(_reading.At, turns: !IsLed)) Tell(new LogEntry(LogKind.Turn, _now, new Seconds(Score)) { Number = _head.Apart.Value });
    }

    /// <summary>Where the last tick was, in seconds into the score; for the run's own thread.</summary>
    internal double LastAt => Score;

    private double Score => _phase == RunPhase.Waiting || (_clock.IsOutside && _reading.State == ClockState.Waiting) ? _startAt : _head.Score;

    // Only the own click counts in, and only before anything has set score and clock apart.
    private bool HasNotTurned => !_clock.IsOutside && _head.Apart == Seconds.Zero;

    private bool CountsIn => _phase == RunPhase.Running && HasNotTurned && Score < _startAt;

    private Decibels? RideAt(int source)
    {
        var ride = _plan.Sources[source];
        var heard = _phase == RunPhase.Waiting || _reading.State == ClockState.Waiting ? _startAt : _head.Heard(ride.Source.Site.Link.Delay);
        // During the count-in the faders wait where the music will begin.
        if (heard < _startAt && HasNotTurned) heard = _startAt;
        return ride.Ride.At(_plan.Timeline.Tempo.QuartersAt(new Seconds(Math.Max(0, heard))));
    }

    private void StepSource(int i, double seconds)
    {
        var (fader, link, source) = (_faders[i], _links[i], _plan.Sources[i]);
        var ride = RideAt(i);
        var moves = _phase == RunPhase.Running && _reading.State is ClockState.Running or ClockState.Carrying;
        var before = link.Gone;
        link.Step(moves && ride is not null && source.IsAwaited(Score) && source.IsAwaited(Score + source.Source.Site.Link.Delay.Value), _now);
        if (link.Gone != before && !Follows) Linked(i, link.Gone, before);
        // What another moves has long been where the plan wants it when this run comes back to look.
        if (fader.Step(ride, source.Source.Site.Link.OnDrop.Fades, _now, _steppedBack ? MuchTime : seconds)) Tell(LogKind.Planned, i, fader.Gain);
    }

    private void StepDesk(int d, double seconds)
    {
        var desk = _desks[d];
        if (!_isArmed && !desk.IsController) return;
        if (Follows && !desk.IsController)
        {
            StepInMind(d);
            return;
        }
        for (var i = 0; i < _faders.Length; i++)
        {
            if (!desk.Carries(i)) continue;
            var fader = _faders[i];
            if (fader.HandDesk != d && !desk.IsController && desk.IsStubborn(i, _now)) TakeFromDesk(i, d, desk.ReportedGain(i));
            desk.Step(i, fader.Gain, _plan.Limits.Bottom, fader.Speed * seconds, fader.HandDesk == d, _now);
        }
        desk.Send(_now);
    }

    private void Linked(int i, DropCause? gone, DropCause? before)
    {
        if (gone is { } cause)
        {
            _faders[i].Drop(cause, cause == DropCause.Told ? null : ListensAt());
            Tell(new LogEntry(LogKind.Drop, _now, new Seconds(Score)) { Index = i, Text = Words.Of(cause) });
        }
        else if (before is not null)
        {
            _faders[i].Up(BeatsFromNow(_settings.UpBeats), _now);
            Tell(LogKind.Up, i, _faders[i].Gain);
        }
    }

    private Decibels? ListensAt()
    {
        Decibels? highest = null;
        foreach (var desk in _desks)
            if (desk.ListensAt is { } at && (highest is null || at > highest)) highest = at;
        return highest;
    }

    private TimeSpan BeatsFromNow(double beats)
    {
        var quarters = _plan.Timeline.Tempo.QuartersAt(new Seconds(Math.Max(0, Score)));
        var beat = _plan.Timeline.BarAt(quarters).Meter.Unit.ToDouble();
        return TimeSpan.FromSeconds(beats * beat * 60 / _plan.Timeline.Tempo.TempoAt(quarters));
    }

    private void Tell(LogKind kind, int source, Decibels? gain) => Tell(new LogEntry(kind, _now, new Seconds(Score)) { Index = source, HasGain = true, Gain = gain });

    private void Tell(LogKind kind) => Tell(new LogEntry(kind, _now, new Seconds(Score)));

    private void Tell(in LogEntry entry) => _log?.Add(CountsIn ? entry with { IsCountIn = true } : entry);
}
